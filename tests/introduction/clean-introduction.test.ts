import { describe, expect, it } from 'vitest';
import { mayCutCells, mayHangCage, mayLookForQueen, mayOpenCandy } from './support/gates.ts';
import { noEvidence } from '../../server/introduction/acts/gate.ts';
import { planIntroduction } from '../../server/introduction/plan/plan.ts';
import { isoDate } from '../../server/introduction/calendar.ts';
import { at, cleanEntries, facts, stateAt, zone } from './support/field-log.ts';

describe('a clean introduction', () => {
  const after = [...cleanEntries, [at(10, 10.5), facts.opened()], [at(17), facts.looked()]] as const;
  const until = (nowMs: number) =>
    stateAt(
      after.filter(([t]) => t <= nowMs),
      nowMs,
    );
  it.each([
    [at(0, 9), 'planned'],
    [at(1), 'foragers-leaving'],
    [at(5), 'waiting-to-cut'],
    [at(8), 'second-look-due'],
    [at(10, 10.2), 'caged'],
    [at(11), 'candy-open'],
    [at(14), 'hands-off'],
    [at(17, 9), 'check-due'],
    [at(18), 'accepted'],
  ])('goes through its stages (%#)', (nowMs, stage) => {
    expect(until(nowMs).stage).toBe(stage);
  });

  it('says wait, then go at each gate', () => {
    const answer = (gate: typeof mayCutCells, nowMs: number) => gate(until(nowMs), noEvidence, nowMs).answer;
    expect(answer(mayCutCells, at(6))).toBe('wait');
    expect(answer(mayCutCells, at(7, 9))).toBe('go');
    expect(answer(mayHangCage, at(2))).toBe('go');
    expect(answer(mayOpenCandy, at(9))).toBe('wait');
    expect(answer(mayOpenCandy, at(10, 10.2))).toBe('go');
    expect(answer(mayLookForQueen, at(12))).toBe('stop');
    expect(answer(mayLookForQueen, at(14))).toBe('stop');
    expect(answer(mayLookForQueen, at(16, 12))).toBe('wait');
    expect(answer(mayLookForQueen, at(17, 9))).toBe('go');
  });

  it('plans days 7, 10, 10, 17', () => {
    const plan = planIntroduction(until(at(1)));
    expect(plan.map((step) => [step.kind, isoDate(step.targetMs, zone)])).toEqual([
      ['split', '2027-05-01'],
      ['cut-cells', '2027-05-08'],
      ['hang-cage', '2027-05-08'],
      ['second-look', '2027-05-11'],
      ['open-candy', '2027-05-11'],
      ['look-for-queen', '2027-05-18'],
      ['check-sealed-brood', '2027-05-28'],
    ]);
  });
});
