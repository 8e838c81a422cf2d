/**
 * Test frames: a frame with eggs and young larvae, marked, put in for a day or two. Queen cells on it say
 * that no queen of any kind is in the box. Taken out whole again, bees shaken off, it changes nothing else.
 */
import { msPerHour } from '../../biology/duration.ts';
import { shortestCellDays, testFrameDays, lowEnd } from '../../biology/figures.ts';
import { lastOf, ofKind, type EffectiveFact } from './effective-facts.ts';

export interface TestFrame {
  readonly inMs: number;
  readonly outMs: number | null;
  readonly cells: number | null;
  /** `queen-was-taken`: no cell was started, and a queen of some kind was found since and taken away. */
  readonly answer:
    | 'no-queen'
    | 'maybe-a-queen'
    | 'queen-was-taken'
    | 'too-short'
    | 'too-long'
    | 'not-counted'
    | 'still-in';
}

function answerOf(inMs: number, outMs: number, cells: number | undefined): TestFrame['answer'] {
  const hours = (outMs - inMs) / msPerHour;
  if (cells === undefined) return 'not-counted';
  if (hours >= lowEnd(shortestCellDays) * 24) return 'too-long';
  if (cells > 0) return 'no-queen';
  return hours < lowEnd(testFrameDays) * 24 ? 'too-short' : 'maybe-a-queen';
}

export const wasThatIt =
  'A brood frame was taken out since it went in. Was that the marked frame? Then correct the entry.';

/** A frame was taken while the test frame was in, and not as it: perhaps it was. */
export const perhapsTaken = (facts: readonly EffectiveFact[]): boolean => {
  const last = lastOf(testFrames(facts));
  return (
    last?.answer === 'still-in' && ofKind(facts, 'brood-frame-taken').some(({ atMs }) => atMs > last.inMs)
  );
};

export function testFrames(facts: readonly EffectiveFact[]): readonly TestFrame[] {
  const taken = ofKind(facts, 'brood-frame-taken').filter(({ fact }) => fact.asTestFrame);
  const added = ofKind(facts, 'brood-frame-added').filter(({ fact }) => fact.asTestFrame);
  const removed = ofKind(facts, 'queen-removed').map(({ atMs }) => atMs);
  return added.map(({ atMs }, i) => {
    const next = added[i + 1]?.atMs ?? Infinity;
    const out = taken.find((t) => t.atMs > atMs && t.atMs <= next);
    if (!out) return { inMs: atMs, outMs: null, cells: null, answer: 'still-in' };
    const { cellsOnIt } = out.fact;
    const answer = answerOf(atMs, out.atMs, cellsOnIt);
    // One taken since, or just before it came out, held them back; taken earlier, no cell means another one.
    const explained =
      answer === 'maybe-a-queen' &&
      removed.some((ms) => (out.atMs - ms) / msPerHour < lowEnd(testFrameDays) * 24);
    return {
      inMs: atMs,
      outMs: out.atMs,
      cells: cellsOnIt ?? null,
      answer: explained ? 'queen-was-taken' : answer,
    };
  });
}
