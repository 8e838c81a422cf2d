import { describe, expect, it } from 'vitest';
import { disturbedInHandsOff } from '../../server/rules/catalogue/visits/disturbed-in-hands-off.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import type { StepKind, WeightStep } from '../../server/signals/types.ts';
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

/** A cat on the lid, so many hours ago each time. */
const onTheLid = (...hoursAgo: readonly number[]): WeightStep[] =>
  hoursAgo.map((h) => ({ atMs: noon - h * hour, sizeG: 2, sizeSdG: 13, kind: 'loaded', loadG: 4000 }));
const found = (steps: readonly WeightStep[]) =>
  disturbedInHandsOff.evaluate(
    nucInput({
      introduction: released(5, { candyOpenedAtMs: noon - 5 * day }),
      signals: signals({ steps }),
    }),
    limitsFor(disturbedInHandsOff, nucSubject, noLimitSettings),
  );

describe('what lay on the closed box for a moment', () => {
  it('can wait for the next visit, and says what it was', () => {
    const { verdict, urgency, message } = found(onTheLid(1));
    expect({ verdict, urgency }).toEqual({ verdict: 'yes', urgency: 'next-visit' });
    expect(inWords(message!.seen, words)).toContain('4.00 kg lay on the box');
  });
  it('is told the first time since the release: a cat comes every day', () => {
    expect(found(onTheLid(49, 25, 1)).verdict).toBe('no');
    expect(found(onTheLid(23, 1)).verdict).toBe('yes');
  });
  it('hides no box that was opened', () => {
    const opened = { atMs: noon - 2 * hour, sizeG: 2, sizeSdG: 13, kind: 'opened' as const };
    const { verdict, urgency } = found([...onTheLid(26), opened, ...onTheLid(1)]);
    expect({ verdict, urgency }).toEqual({ verdict: 'yes', urgency: undefined });
  });
});

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
