/** "Stop" is said where it would harm her; what was done is called done. */
import { describe, expect, it } from 'vitest';
import { nowhere, type QueenState } from '../../server/introduction/queen/queen-state.ts';
import { doneAlready } from '../../server/views/nuc/done-already.ts';

const dayMs = 86_400_000;
const of = (queen: Partial<QueenState>) => ({ queen: { ...nowhere, ...queen } });
const caged = of({ where: 'in-cage', inCageSinceMs: dayMs });
const letOut = of({ where: 'released', releasedAtMs: 3 * dayMs });

describe('an act that has been done', () => {
  it.each([
    ['hang-cage', caged, true],
    ['open-candy', caged, undefined],
    ['hang-cage', letOut, true],
    ['open-candy', letOut, true],
    ['look-for-queen', letOut, undefined],
    ['cut-cells', letOut, undefined],
    // Nobody found her: another queen would be at risk, and that is no matter of something done.
    ['hang-cage', of({ ...letOut.queen, notFoundAtMs: [9 * dayMs] }), undefined],
    ['open-candy', of({ ...letOut.queen, outByAccident: true }), undefined],
    ['open-candy', of({ where: 'dead', releasedAtMs: 3 * dayMs }), undefined],
    ['hang-cage', of({}), undefined],
  ] as const)('%s %#', (gate, state, done) => {
    expect(doneAlready({ gate, answer: 'stop' }, state).done).toBe(done);
    expect(doneAlready({ gate, answer: 'wait' }, state)).toEqual({});
  });
});
