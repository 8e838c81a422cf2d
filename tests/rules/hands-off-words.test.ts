import { describe, expect, it } from 'vitest';
import { disturbedInHandsOff } from '../../server/rules/catalogue/visits/disturbed-in-hands-off.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import type { StepKind } from '../../server/signals/types.ts';
import { inWords } from '../../server/words/phrase.ts';
import { day, hour, noon, nucInput, nucSubject, released, signals } from './made-up.ts';

const words = { timeZone: 'UTC', temperature: 'C', weight: 'kg' } as const;
const told = (kind: StepKind, sizeG: number) => {
  const found = disturbedInHandsOff.evaluate(
    nucInput({
      introduction: released(3, { candyOpenedAtMs: noon - 3 * day }),
      signals: signals({ steps: [{ atMs: noon - hour, sizeG, sizeSdG: 13, kind }] }),
    }),
    limitsFor(disturbedInHandsOff, nucSubject, noLimitSettings),
  );
  if (!found.message) throw new Error(found.verdict);
  return [found.message.seen, found.message.howSure].map((said) => inWords(said, words)).join(' ');
};

describe('what the scale felt in the hands-off days', () => {
  it('is no change of nothing where a lid was off for a while', () => {
    expect(told('opened', 2)).toContain('jumped and came back');
    expect(told('opened', 2)).not.toContain('2 g');
  });
  it('is what it weighs more since, where something stayed in it', () => {
    expect(told('opened', 240)).toContain('changed by 240 g');
  });
  it('may be rain, where it only weighs more', () => {
    expect(told('added', 240)).toContain('rain on the roof');
  });
});
