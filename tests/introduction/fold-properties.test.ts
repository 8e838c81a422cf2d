import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../server/introduction/calendar.ts';
import { effectiveFacts } from '../../server/introduction/log/effective-facts.ts';
import type { FactPayload, LogEntry } from '../../server/introduction/log/facts.ts';
import { noEvidence, type GateName } from '../../server/introduction/acts/gate.ts';
import { mayCutCells, mayHangCage, mayLookForQueen, mayOpenCandy } from './support/gates.ts';
import { planIntroduction } from '../../server/introduction/plan/plan.ts';
import { foldIntroduction, type IntroductionState } from '../../server/introduction/state.ts';
import { at, facts, setupOf } from './support/field-log.ts';
import { aLog, aMoment, anyFact, entry } from './support/random-log.ts';
import { sized } from '../support/size.ts';

const nowMs = at(26);
const setup = setupOf();

/** The state without what is allowed to differ: when things were written, and by which correction. */
const bare = (state: IntroductionState) => ({
  ...state,
  facts: state.facts.map(({ atMs, fact, id }) => ({ atMs, fact, id })),
});
const fold = (log: readonly LogEntry[], now = nowMs) => foldIntroduction(setup, log, now);
const open = (log: readonly LogEntry[], now = nowMs) => mayOpenCandy(fold(log, now), noEvidence, now);

describe('the fold', () => {
  it('does not care in which order facts were written, or stand in the list', () => {
    const permuted = aLog.chain((log) =>
      fc.tuple(
        fc.constant(log),
        fc.shuffledSubarray(log, { minLength: log.length }),
        fc.array(fc.integer({ min: 0, max: 1e9 }), { minLength: log.length, maxLength: log.length }),
      ),
    );
    fc.assert(
      fc.property(permuted, ([log, shuffled, delays]) => {
        const late = shuffled.map((e, i) => ({ ...e, writtenAtMs: e.happenedAtMs + (delays[i] ?? 0) }));
        expect(bare(fold(late))).toEqual(bare(fold(log)));
      }),
      { numRuns: sized(30, 200) },
    );
  });

  it('gives a corrected fact the same place as one that was written right', () => {
    const corrected = fc.tuple(aLog, fc.nat(), aMoment, anyFact, aMoment, anyFact);
    fc.assert(
      fc.property(corrected, ([log, pick, rightAt, right, wrongAt, wrong]) => {
        const i = 1 + (pick % Math.max(log.length - 1, 1));
        const place = { introductionId: 'intro-one', writtenAtMs: nowMs };
        const good = log.map((e, k) => (k === i ? entry(e.id, rightAt, right) : e));
        if (i >= log.length) good.push(entry('entry-last', rightAt, right));
        const id = good[i]!.id;
        const bad: LogEntry[] = good.map((e, k) => (k === i ? entry(e.id, wrongAt, wrong) : e));
        bad.push({
          ...place,
          id: 'correction-1',
          type: 'correction',
          corrects: id,
          happenedAtMs: nowMs,
          replacement: right,
          replacementHappenedAtMs: rightAt,
        });
        expect(bare(fold(bad))).toEqual(bare(fold(good)));
      }),
      { numRuns: sized(30, 200) },
    );
  });

  it('forgets a withdrawn fact', () => {
    fc.assert(
      fc.property(aLog, aMoment, anyFact, (log, atMs, fact) => {
        const withdrawn: LogEntry[] = [
          ...log,
          entry('entry-wrong', atMs, fact),
          {
            id: 'correction-1',
            introductionId: 'intro-one',
            type: 'correction',
            corrects: 'entry-wrong',
            happenedAtMs: nowMs,
            writtenAtMs: nowMs,
          },
        ];
        expect(bare(fold(withdrawn))).toEqual(bare(fold(log)));
      }),
      { numRuns: 100 },
    );
  });

  it('at a past instant is what it was before the later facts', () => {
    fc.assert(
      fc.property(aLog, aMoment, (log, then) => {
        const known = log.filter((e) => e.happenedAtMs <= then);
        expect(bare(fold(log, then))).toEqual(bare(fold(known, then)));
      }),
      { numRuns: 100 },
    );
  });
});

const gates = {
  'cut-cells': mayCutCells,
  'hang-cage': mayHangCage,
  'open-candy': mayOpenCandy,
  'look-for-queen': mayLookForQueen,
} as const;

/** Facts that are no reason for any gate to open: they tell of nothing, or of something that is amiss. */
const noReason: readonly FactPayload[] = [
  { kind: 'note' },
  { kind: 'brood-disease', found: 'signs' },
  { kind: 'fed', feed: 'syrup' },
  { kind: 'moved', metres: 3 },
  ...(Object.keys(gates) as GateName[]).map((gate): FactPayload => ({
    kind: 'gate-overridden',
    gate,
    reason: 'no other day',
  })),
  facts.atCage({ behaviour: 'biting' }),
  facts.inspection({ everyFrameChecked: false, youngestBrood: 'eggs' }),
  facts.inspection({ beesShakenOff: false }),
  facts.inspection({ cells: { open: 0, sealed: 0, emerged: 1, tornDown: 0 } }),
  facts.inspection({ virginSeen: true }),
  facts.inspection({ severalEggsACell: true }),
  { kind: 'outcome', outcome: 'given-up' },
];
/** No reason for one gate, a cause for others: brood brought in explains brood and cells that did not fit the log, */
const brood: readonly FactPayload[] = [facts.broodAdded(), facts.broodAdded({ brood: 'old-larvae' })];
/** cells that stand are to be cut, */
const standing = facts.inspection({ cells: { open: 0, sealed: 2, emerged: 0, tornDown: 0 } });
/** only sealed brood dates the last egg, and so the cut, */
const drones = facts.inspection({ droneBroodInWorkerCells: true, youngestBrood: 'sealed-only' });
/** once brood disease is ruled out a queen may be hung, */
const ruledOut: FactPayload = { kind: 'brood-disease', found: 'ruled-out' };
/** and with the queen dead hands need not be kept off any more. */
const deadQueen: readonly FactPayload[] = [{ kind: 'balled', rescued: false }, { kind: 'queen-dead' }];
const more: Readonly<Record<GateName, readonly FactPayload[]>> = {
  'cut-cells': [ruledOut],
  'hang-cage': [standing, drones, ...deadQueen],
  'open-candy': [ruledOut, standing, drones, ...deadQueen],
  'look-for-queen': [ruledOut, ...brood, standing, drones, ...deadQueen],
};

/** An egg that was seen early explains brood that was too young for the log later on. */
const explains = (fact: FactPayload, log: readonly LogEntry[], now: number): boolean =>
  fact.kind === 'inspection' &&
  fact.youngestBrood === 'eggs' &&
  fold(log, now).evidence.contradictions.length > 0;

describe.each(Object.entries(gates) as [GateName, typeof mayOpenCandy][])('the gate %s', (name, may) => {
  const answer = (log: readonly LogEntry[], now: number) => may(fold(log, now), noEvidence, now).answer;

  it('is not made safer by a fact that is no reason', () => {
    let closed = 0;
    const useless = fc.constantFrom(...noReason, ...more[name]);
    fc.assert(
      fc.property(aLog, aMoment, useless, aMoment, (log, atMs, fact, now) => {
        if (answer(log, now) === 'go' || explains(fact, log, now)) return;
        closed++;
        const after = answer([...log, entry('entry-more', Math.min(atMs, now), fact)], now);
        expect(after, JSON.stringify(fact)).not.toBe('go');
      }),
      { numRuns: name === 'open-candy' ? sized(200, 1500) : sized(60, 800) },
    );
    expect(closed).toBeGreaterThan(sized(20, 150));
  });
});

describe('the open gate', () => {
  it('never goes while the log has no queen in the cage, or no two late looks', () => {
    let gone = 0;
    fc.assert(
      fc.property(aLog, aMoment, (log, now) => {
        if (open(log, now).answer !== 'go') return;
        gone++;
        const state = fold(log, now);
        expect(state.queen.where).toBe('in-cage');
        expect(state.looks.second).not.toBeNull();
        expect(state.virgin.loose).toBe('excluded');
      }),
      { numRuns: sized(200, 2000) },
    );
    expect(gone).toBeGreaterThan(sized(2, 20));
  });
});

it('every gate and the plan answer for any log, with a reason and in finite instants', () => {
  fc.assert(
    fc.property(aLog, aMoment, (log, now) => {
      const state = fold(log, now);
      for (const gate of [mayCutCells, mayHangCage, mayOpenCandy, mayLookForQueen]) {
        const answer = gate(state, noEvidence, now);
        expect(answer.reasons.length).toBeGreaterThan(0);
        expect(answer.headline).not.toBe('');
        if (answer.untilMs !== undefined) expect(Number.isFinite(answer.untilMs)).toBe(true);
      }
      const plan = planIntroduction(state);
      expect(new Set(plan.map((step) => step.id)).size).toBe(plan.length);
      for (const { earliestMs, targetMs, latestMs, done } of plan) {
        for (const instant of [earliestMs, targetMs, latestMs]) expect(Number.isFinite(instant)).toBe(true);
        // A step whose window is over stays overdue and is planned for the next visit.
        if (!done && latestMs >= now) expect(targetMs <= latestMs, 'target after latest').toBe(true);
        if (!done) expect(dayNumber(now, targetMs, setup.timeZone)).toBeGreaterThanOrEqual(0);
      }
    }),
    { numRuns: sized(100, 300) },
  );
});

it('moves a fact between introductions as if it had been written there', () => {
  fc.assert(
    fc.property(aLog, aMoment, anyFact, (log, atMs, fact) => {
      const elsewhere: LogEntry[] = [
        ...log,
        { ...entry('entry-moved', atMs, fact), introductionId: 'intro-two' },
        {
          id: 'correction-1',
          introductionId: 'intro-two',
          type: 'correction',
          corrects: 'entry-moved',
          moveTo: 'intro-one',
          happenedAtMs: nowMs,
          writtenAtMs: nowMs,
        },
      ];
      expect(bare(fold(elsewhere))).toEqual(bare(fold([...log, entry('entry-moved', atMs, fact)])));
      expect(effectiveFacts('intro-two', elsewhere, nowMs)).toEqual([]);
    }),
    { numRuns: 100 },
  );
});
