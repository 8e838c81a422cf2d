/** Everything silent means that it fell silent together: a device that has been dead for days says nothing of a gateway. */
import { expect, it } from 'vitest';
import { everythingSilent } from '../../server/rules/catalogue/sensors/everything-silent.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import { day, health, hour, minute, noon, siteInput } from './made-up.ts';

const every = { expectedIntervalMs: 5 * minute };
const heard = (sensor: string, lastHeardMs: number) => health({ sensor, lastHeardMs, ...every });

function verdict(...sensors: readonly ReturnType<typeof health>[]): string {
  const input = siteInput(sensors, noon);
  const { verdict: said, clear } = everythingSilent.evaluate(
    input,
    limitsFor(everythingSilent, input.subject, noLimitSettings),
  );
  return clear ? `${said}, clear` : said;
}

it('is found where all fell silent within their rhythm', () => {
  expect(verdict(heard('a', noon - hour), heard('b', noon - hour - 4 * minute))).toBe('yes');
});

it('is not found where one went silent beside one that has long been dead', () => {
  expect(verdict(heard('a', noon - hour), heard('b', noon - 8 * day))).toBe('no');
});

it('is found beside one that has long been dead where two others went together', () => {
  const [a, b] = [heard('a', noon - hour), heard('b', noon - hour - minute)];
  expect(verdict(a, b, heard('c', noon - 8 * day))).toBe('yes');
});

it('is over with the first that is heard again', () => {
  expect(verdict(heard('a', noon - minute), heard('b', noon - 8 * hour))).toBe('no, clear');
});
