/** What must hold of the answer for any log, truthful or mistaken. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import type { GateEvidence } from '../../server/introduction/acts/gate.ts';
import { actKinds, type ActKind } from '../../server/introduction/acts/draft.ts';
import { acts } from '../../server/introduction/acts/table.ts';
import { gatesOf } from '../../server/introduction/gates/views.ts';
import { introductionMethods, startingPoints, type LogEntry } from '../../server/introduction/log/facts.ts';
import { foldIntroduction } from '../../server/introduction/state.ts';
import type { IntroductionSetup } from '../../server/introduction/log/setup.ts';
import { stepState } from '../../server/views/plan/plan-steps.ts';
import { sized } from '../support/size.ts';
import { playOn } from './support/benign-keeper.ts';
import { at, setupOf } from './support/field-log.ts';
import { anyEvidence } from './support/random-evidence.ts';
import { aLog, aMoment } from './support/random-log.ts';

const anySetup: fc.Arbitrary<IntroductionSetup> = fc
  .record({
    startingPoint: fc.constantFrom(...startingPoints),
    method: fc.constantFrom(...introductionMethods),
    expectedQueenMs: fc.option(
      fc.integer({ min: 0, max: 30 }).map((day) => at(day, 12)),
      { nil: undefined },
    ),
  })
  .map(({ expectedQueenMs, ...over }) =>
    setupOf({ ...over, ...(expectedQueenMs === undefined ? {} : { expectedQueenMs }) }),
  );

/** Only a split begins with one in its log. */
const anyLog: fc.Arbitrary<readonly [IntroductionSetup, readonly LogEntry[]]> = fc
  .tuple(anySetup, aLog, fc.boolean())
  .map(([setup, log, split]) => [
    setup,
    setup.startingPoint === 'planned-split' || split ? log : log.slice(1),
  ]);

const answerAt = (
  setup: IntroductionSetup,
  log: readonly LogEntry[],
  nowMs: number,
  evidence?: GateEvidence,
) => answerFor(foldIntroduction(setup, log, nowMs), evidence);

it('the table has one row for every act', () => {
  expect(acts.map(({ kind }) => kind).sort()).toEqual([...actKinds].sort());
});

describe('the answer', () => {
  it('has nothing due that may not be done on its day', () => {
    let due = 0;
    fc.assert(
      fc.property(anyLog, aMoment, anyEvidence, ([setup, log], nowMs, evidence) => {
        const answer = answerAt(setup, log, nowMs, evidence);
        for (const step of answer.plan) {
          if (!['due', 'overdue'].includes(stepState(step, nowMs))) continue;
          due++;
          const { answer: may, untilMs, headline } = answer.permissionOf(step.kind);
          const opensByThen = may === 'go' || (untilMs !== undefined && untilMs <= step.targetMs);
          expect(opensByThen, `${step.kind}: ${headline ?? ''}`).toBe(true);
        }
      }),
      { numRuns: sized(120, 3000) },
    );
    expect(due).toBeGreaterThan(sized(40, 1000));
  });

  it('has windows in order, and what was done on the day on which it was done', () => {
    let done = 0;
    fc.assert(
      fc.property(anyLog, aMoment, ([setup, log], nowMs) => {
        for (const step of answerAt(setup, log, nowMs).plan) {
          const { kind, earliestMs, targetMs, latestMs } = step;
          if (step.done) {
            done++;
            expect(targetMs, kind).toBe(step.done.atMs);
          }
          expect(earliestMs, `${kind}: earliest after its day`).toBeLessThanOrEqual(targetMs);
          const day = latestMs < nowMs ? Infinity : latestMs;
          expect(targetMs, `${kind}: its day after the latest`).toBeLessThanOrEqual(day);
        }
      }),
      { numRuns: sized(120, 3000) },
    );
    expect(done).toBeGreaterThan(sized(40, 1000));
  });

  it('names, for every act that is blocked, one that can be done now or from a date', () => {
    let blocks = 0;
    fc.assert(
      fc.property(anyLog, aMoment, anyEvidence, ([setup, log], nowMs, evidence) => {
        const answer = answerAt(setup, log, nowMs, evidence);
        const open = new Map(answer.plan.filter(({ done }) => !done).map((step) => [step.kind, step]));
        const settles = (kind: ActKind, seen: readonly ActKind[]): boolean => {
          const step = open.get(kind);
          if (!step || seen.includes(kind)) return false;
          if (!step.blocked || step.blocked.untilMs !== undefined) return true;
          return step.blocked.first.some((first) => settles(first, [...seen, kind]));
        };
        for (const { kind, blocked } of open.values()) {
          if (!blocked) continue;
          blocks++;
          expect(settles(kind, []), `${kind}: ${blocked.by}, first ${blocked.first.join(', ')}`).toBe(true);
        }
      }),
      { numRuns: sized(120, 3000) },
    );
    expect(blocks).toBeGreaterThan(sized(40, 1000));
  });

  it('changes only with facts and time, whatever was asked before', () => {
    fc.assert(
      fc.property(anyLog, aMoment, fc.array(aMoment, { maxLength: 5 }), ([setup, log], nowMs, before) => {
        for (const other of before) void answerAt(setup, log, other).plan;
        const again = answerAt(setup, log, nowMs);
        const fresh = answerAt(setup, [...log], nowMs);
        expect(again.plan).toEqual(fresh.plan);
        expect(gatesOf(again)).toEqual(gatesOf(fresh));
      }),
      { numRuns: sized(50, 1000) },
    );
  });

  it('does not depend on the order in which entries were written', () => {
    const shuffled = anyLog.chain(([setup, log]) =>
      fc.tuple(
        fc.constant(setup),
        fc.constant(log),
        fc.shuffledSubarray([...log], { minLength: log.length }),
      ),
    );
    fc.assert(
      fc.property(shuffled, aMoment, ([setup, log, other], nowMs) => {
        const late = other.map((one, i) => ({ ...one, writtenAtMs: nowMs + i }));
        expect(answerAt(setup, late, nowMs).plan).toEqual(answerAt(setup, log, nowMs).plan);
      }),
      { numRuns: sized(50, 1000) },
    );
  });

  it('is, after a correction, what it had been with the right entry at once', () => {
    fc.assert(
      fc.property(anyLog, fc.nat(), aMoment, ([setup, log], pick, wrongAt) => {
        const wrong = log[pick % Math.max(log.length, 1)];
        if (!wrong || wrong.type !== 'fact') return;
        const mistaken: LogEntry[] = log.map((one) =>
          one === wrong ? { ...wrong, happenedAtMs: wrongAt, fact: { kind: 'note' } } : one,
        );
        mistaken.push({
          id: 'correction-1',
          introductionId: setup.id,
          type: 'correction',
          corrects: wrong.id,
          happenedAtMs: at(26),
          writtenAtMs: at(26),
          replacement: wrong.fact,
          replacementHappenedAtMs: wrong.happenedAtMs,
        });
        expect(answerAt(setup, mistaken, at(27)).plan).toEqual(answerAt(setup, log, at(27)).plan);
      }),
      { numRuns: sized(50, 1000) },
    );
  });

  it('leads from any state to an end, where the keeper finds the best that can be true', () => {
    fc.assert(
      fc.property(anyLog, aMoment, ([setup, log], nowMs) => {
        const known = log.filter((one) => one.happenedAtMs <= nowMs);
        const played = playOn(setup, known, nowMs, 75);
        expect(played).toMatchObject({ end: 'over' });
      }),
      { numRuns: sized(25, 600) },
    );
  });
});
