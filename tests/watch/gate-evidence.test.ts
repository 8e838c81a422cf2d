/** What the sensors say at the gates. A caged queen stands 15 °C (McAfee et al. 2020), where brood wants 32 °C. */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import type { ActKind } from '../../server/introduction/acts/draft.ts';
import { gateEvidence } from '../../server/watch/gate-evidence.ts';
import { at, cleanEntries, facts, stateAt } from '../introduction/support/field-log.ts';
import { estimate, signals as madeUp } from '../rules/made-up.ts';

it.each([
  [30, false],
  [15.5, false],
  [14, true],
])('a night down to %d °C among the bees is too cold for a cage: %s', (value, tooCold) => {
  // Far under what brood wants in each case.
  const outlook = {
    ...madeUp().outlook,
    limitC: 32,
    chanceBelow: 1,
    tonightMinC: estimate(value, value - 2, value + 2),
  };
  expect(gateEvidence(madeUp({ outlook }), 0.05, null).outlook?.tooCold).toBe(tooCold);
});

it('robbing is no cause to open the nuc early', () => {
  const robbing = { underWay: true, why: 'two days with a loss', days: [] };
  const evidence = gateEvidence(madeUp({ robbing }), 0.05, null);
  expect(evidence.trouble).toBeUndefined();
  expect(evidence.robbing).toBeDefined();
});

describe('where the scale says that bees or box are gone', () => {
  const left = {
    fromMs: at(9, 14),
    toMs: at(9, 15),
    lossG: 700,
    lossSdG: 30,
    temperatureFollowed: true,
    homeByMs: at(9, 21),
    why: '700 g within the hour',
  };
  const gone = { atMs: at(9, 14), sizeG: -9000, sizeSdG: 30, kind: 'gone' } as const;
  const may = (
    entries: Parameters<typeof stateAt>[0],
    signals: Parameters<typeof madeUp>[0],
    kind: ActKind,
  ) => {
    const nowMs = at(10, 12);
    const state = stateAt(entries, nowMs);
    const answer = answerFor(state, gateEvidence(madeUp({ ...signals, nowMs }), 0.05, state));
    const { headline } = answer.permissionOf(kind);
    const due = answer.plan.filter(
      ({ done, offered, blocked, targetMs }) => !done && !offered && !blocked && targetMs <= nowMs,
    );
    return { headline, due: due.map((step) => step.kind) };
  };
  const arrived = [...cleanEntries.slice(0, 2), [at(10, 9), facts.arrived()] as const];

  it('she is not let out before somebody has looked', () => {
    expect(may(cleanEntries, { massDepartures: [left] }, 'open-candy').headline).toBeNull();
    const notSince = cleanEntries.slice(0, 3);
    expect(may(notSince, { massDepartures: [left] }, 'open-candy').due).toContain('watch-cage');
  });
  it.each([
    [{ massDepartures: [left] }, 'Bees left in a mass: look first'],
    [{ steps: [gone] }, 'The box is gone from its scale'],
  ])('no queen is hung before somebody has looked', (signals, headline) => {
    const { headline: said, due } = may(arrived, signals, 'hang-cage');
    expect(said).toBe(headline);
    // The second look is due that day, and is that look.
    expect(due).toContain('second-look');
    expect(due).not.toContain('hang-cage');
  });
  it('bees that may only be out to forage are no cause to open it early', () => {
    const trouble = (massDepartures: (typeof left)[], nowMs: number) =>
      gateEvidence(madeUp({ massDepartures, nowMs }), 0.05, null).trouble;
    const out = { ...left, temperatureFollowed: false };
    expect(trouble([out], at(9, 18))).toBeUndefined();
    expect(trouble([out], at(9, 21))).toBeDefined();
    expect(trouble([left], at(9, 18))).toBeDefined();
  });
  it('a look since then settles it', () => {
    const looked = [...arrived, [at(10, 10), facts.inspection()] as const];
    expect(may(looked, { massDepartures: [left] }, 'hang-cage').headline).toBeNull();
  });
});

it('where the sensors cannot tell how many bees there are, the keeper’s count decides', () => {
  const split = [[at(0), facts.split({ framesOfBees: 1 })] as const, [at(6, 9), facts.arrived()] as const];
  const state = stateAt(split, at(6, 12));
  const answer = answerFor(state, gateEvidence(madeUp({ nowMs: at(6, 12) }), 0.05, state));
  expect(answer.permissionOf('hang-cage').headline).toBe('Too few bees to keep her warm');
  expect(answer.plan.some(({ kind, offered }) => kind === 'add-bees' && !offered)).toBe(true);
});

describe('the weather outside, where frames are to be taken out (12 °C: common practice)', () => {
  const split = [[at(0), facts.split()] as const];
  const said = (hour: number, temperatureC: number | null, rained: boolean | null) => {
    const nowMs = at(7, hour);
    const evidence = gateEvidence(
      madeUp({ nowMs, outsideNow: { temperatureC, rained } }),
      0.05,
      stateAt(split, nowMs),
    );
    return evidence.weather?.fitToOpen;
  };
  it.each([
    { name: 'warm and dry', hour: 10, temperatureC: 18, rained: false, fit: true },
    { name: 'no gauge', hour: 10, temperatureC: 12, rained: null, fit: true },
    { name: 'a shower passes', hour: 16, temperatureC: 18, rained: true, fit: 'unknown' },
    {
      name: 'cold in the morning: it may get warmer',
      hour: 9,
      temperatureC: 8,
      rained: false,
      fit: 'unknown',
    },
    { name: 'cold in the afternoon', hour: 15, temperatureC: 8, rained: false, fit: false },
    { name: 'nothing outside', hour: 10, temperatureC: null, rained: null, fit: undefined },
  ])('$name', ({ hour, temperatureC, rained, fit }) => {
    expect(said(hour, temperatureC, rained)).toBe(fit);
  });

  it.each([
    { hour: 16, temperatureC: 8, answer: 'wait', due: [] },
    { hour: 16, temperatureC: 18, answer: 'go', due: ['look-for-queen'] },
  ])('she is not looked for at $temperatureC °C in the afternoon', ({ hour, temperatureC, answer, due }) => {
    const nowMs = at(17, hour);
    const state = stateAt([...cleanEntries, [at(10, 11), facts.opened()]], nowMs);
    const evidence = gateEvidence(
      madeUp({ nowMs, outsideNow: { temperatureC, rained: false } }),
      0.05,
      state,
    );
    const answered = answerFor(state, evidence);
    expect(answered.permissionOf('look-for-queen').answer).toBe(answer);
    const dueToday = answered.plan.filter(
      ({ done, offered, blocked, targetMs }) => !done && !offered && !blocked && targetMs <= nowMs,
    );
    expect(dueToday.map(({ kind }) => kind)).toEqual(due);
  });
});
