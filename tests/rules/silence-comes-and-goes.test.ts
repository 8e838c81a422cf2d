/** Poor radio: what is silent, back for minutes and silent again for hours is one alert, told once and over once. */
import { describe, expect, it } from 'vitest';
import { everythingSilent } from '../../server/rules/catalogue/sensors/everything-silent.ts';
import { sensorSilent } from '../../server/rules/catalogue/sensors/sensor-silent.ts';
import type { AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll } from '../../server/rules/engine/evaluate.ts';
import type { RuleInput } from '../../server/rules/engine/inputs.ts';
import { noLimitSettings, type LimitSettings } from '../../server/rules/engine/limits.ts';
import { deviceInput, health, minute, noon, siteInput } from './made-up.ts';

/** Minutes of silence and of reports in turn, so many times; then it reports for good. */
interface Pattern {
  readonly silentMin: number;
  readonly backMin: number;
  readonly times: number;
  readonly everyMin: number;
}
interface Heard {
  readonly lastHeardMs: number;
  readonly expectedIntervalMs: number;
}

const rounds = ({ silentMin, backMin, times }: Pattern): number => (silentMin + backMin) * times;

/** From noon on: what happened in the pattern and in eight hours after it, as minutes of it. */
function watch(
  pattern: Pattern,
  inputAt: (heard: Heard, nowMs: number) => RuleInput,
  limits: LimitSettings = noLimitSettings,
): string[] {
  const { silentMin, backMin, everyMin } = pattern;
  const rules = [sensorSilent, everythingSilent];
  let alerts: ReadonlyMap<string, AlertState> = new Map<string, AlertState>();
  let lastHeardMs = noon;
  const happened: string[] = [];
  for (let min = 1; min <= rounds(pattern) + 8 * 60; min += 1) {
    const nowMs = noon + min * minute;
    const inTurn = min % (silentMin + backMin);
    const isBack = min >= rounds(pattern) || inTurn === 0 || inTurn > silentMin;
    if (isBack && min % everyMin === 0) lastHeardMs = nowMs;
    const input = inputAt({ lastHeardMs, expectedIntervalMs: everyMin * minute }, nowMs);
    const result = evaluateAll([input], alerts, nowMs, { rules, limits });
    alerts = result.alerts;
    happened.push(...result.effects.map(({ kind }) => `${kind} ${String(min)}`));
  }
  return happened;
}

const device = (heard: Heard, nowMs: number): RuleInput => deviceInput(heard, nowMs);
/** Two sensors behind one gateway. */
const site = (heard: Heard, nowMs: number): RuleInput =>
  siteInput(
    ['a', 'b'].map((sensor) => health({ sensor, ...heard })),
    nowMs,
  );
const early: LimitSettings = {
  ...noLimitSettings,
  farm: { 'sensor-silent': { atLeastMin: 20, intervals: 4 } },
};

describe('a sensor that comes and goes', () => {
  it.each<[string, Pattern, LimitSettings, number]>([
    [
      'for hours, at the standard limits',
      { silentMin: 240, backMin: 20, times: 5, everyMin: 5 },
      noLimitSettings,
      195,
    ],
    [
      'every fifty minutes, told early by its keeper',
      { silentMin: 40, backMin: 10, times: 12, everyMin: 5 },
      early,
      35,
    ],
    [
      'and reports every quarter of an hour',
      { silentMin: 240, backMin: 60, times: 4, everyMin: 15 },
      noLimitSettings,
      195,
    ],
    ['and reports every hour', { silentMin: 600, backMin: 60, times: 3, everyMin: 60 }, noLimitSettings, 495],
  ])('%s is told once, and is over once it is steadily back', (_, pattern, limits, raisedMin) => {
    const happened = watch(pattern, device, limits);
    expect(happened).toEqual([`raised ${String(raisedMin)}`, expect.stringMatching(/^cleared /)]);
    const clearedMin = Number(happened[1]?.split(' ')[1]);
    expect(clearedMin - rounds(pattern)).toBeGreaterThan(0);
    expect(clearedMin - rounds(pattern)).toBeLessThanOrEqual(90);
  });

  it('is over an hour and a half after it is back, where it stays', () => {
    const once = { silentMin: 240, backMin: 0, times: 1, everyMin: 5 };
    expect(watch(once, device)).toEqual(['raised 195', 'cleared 330']);
  });
});

describe('a gateway that comes and goes', () => {
  it('is told once, and is over once it is steadily back', () => {
    const pattern = { silentMin: 40, backMin: 10, times: 12, everyMin: 5 };
    expect(watch(pattern, site)).toEqual(['raised 20', `cleared ${String(rounds(pattern) - 5 + 90)}`]);
  });

  it('is over an hour and a half after it is back, where it stays', () => {
    expect(watch({ silentMin: 240, backMin: 0, times: 1, everyMin: 5 }, site)).toEqual([
      'raised 20',
      'cleared 330',
    ]);
  });
});

/** Every third message is lost: a weak radio, a made-up share. */
const lossy =
  (inputAt: typeof device): typeof device =>
  ({ lastHeardMs, expectedIntervalMs }, nowMs) => {
    const isLost = ((lastHeardMs - noon) / expectedIntervalMs) % 3 === 0;
    return inputAt(
      { lastHeardMs: lastHeardMs - (isLost ? expectedIntervalMs : 0), expectedIntervalMs },
      nowMs,
    );
  };

it.each([
  ['a sensor', device],
  ['a gateway', site],
])('%s is over although single messages are lost on the way back', (_, inputAt) => {
  const once = { silentMin: 240, backMin: 0, times: 1, everyMin: 5 };
  const cleared = watch(once, lossy(inputAt))[1];
  expect(Number(cleared?.split(' ')[1])).toBeLessThanOrEqual(335);
});
