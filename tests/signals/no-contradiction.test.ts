/**
 * No two statements about one quantity of one nuc disagree, at any instant of any scenario; and of a sensor that is silent, or
 * sends what it can't have measured, nothing is said but that. `no-contradiction.long.test.ts` goes over all of them.
 */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { NucSignals } from '../../server/signals/types.ts';
import { dose, estimate, noon, signals as madeUp, unknown } from '../rules/made-up.ts';
import { aboutBrood, disagreements, ruleNames, saidBy, type Said } from './contradictions.ts';
import { faults, instants, saidOf } from './said-at.ts';

const ofCage = ['cage-too-cold', 'cage-too-hot'];
const ofScale = ['stores-low', 'being-robbed', 'left-in-a-mass', 'box-gone', 'box-toppled', 'box-lifted'];

describe('at any instant of any scenario', () => {
  it('statements about warmth, weight and bees agree, and lie in their own intervals', () => {
    fc.assert(
      fc.property(instants, (drawn) => {
        expect(disagreements(saidOf(drawn))).toEqual([]);
      }),
      { numRuns: 40 },
    );
  }, 240_000);

  it('a sensor that is silent or without a value gives no figure and no finding', () => {
    fc.assert(
      fc.property(instants, faults, (drawn, fault) => {
        const known = saidOf(drawn, fault);
        const { signals, raised: said } = known;
        expect(disagreements(known)).toEqual([]);
        const { brood, outlook, failing, probePlace } = signals;
        if (fault.place === 'broodC') {
          expect([brood.levelC.ok, brood.spreadC.ok, brood.shareInBand.ok]).toEqual([false, false, false]);
          expect([outlook.tonightMinC.ok, outlook.minutesToLimit.ok, outlook.chanceBelow]).toEqual([
            false,
            false,
            null,
          ]);
          expect([failing.state, probePlace.state]).toEqual(['cannot-tell', 'cannot-tell']);
          for (const dose of signals.doses)
            if (dose.what !== 'caged-queen') expect([dose.nowC, dose.beyondNow]).toEqual([null, false]);
          expect(said.filter((id) => aboutBrood.includes(id))).toEqual([]);
        }
        if (fault.place === 'cageC') expect(said.filter((id) => ofCage.includes(id))).toEqual([]);
        if (fault.place === 'weightG' && fault.hours > 48) {
          expect([signals.stores.ok, signals.storesG.ok, signals.consumptionGPerDay.ok]).toEqual([
            false,
            false,
            false,
          ]);
          expect(signals.robbing.underWay).toBe(false);
          expect(said.filter((id) => ofScale.includes(id))).toEqual([]);
        }
        if (fault.place === 'outsideC') expect(outlook.forecast).not.toBe('persistence');
      }),
      { numRuns: 40 },
    );
  }, 240_000);
});

type Parts = Partial<NucSignals>;

/** What is said of a nuc where all is well but for `over`, raised as given. */
function saidWith(over: Parts, raised: readonly string[] = [], views: Partial<Said> = {}): Said {
  const all = madeUp(over);
  return { signals: all, nowMs: noon, raised, framesOfBees: 3, ...saidBy(all), ...views };
}

const well = madeUp();
const at = (latestC: number, over: Partial<NucSignals['brood']> = {}): Parts => ({
  brood: { ...well.brood, latestC, latestAtMs: noon, ...over },
});
const goneGate = { ...saidBy(well).gate, foragersGone: { answer: 'yes' as const, text: 'gone' } };
const leaving = { drift: { ...well.drift, state: 'leaving' as const } };

/** One double for each rule: the one thing wrong, and the rule that must find it. */
const doubles: readonly (readonly [finds: string, said: Said])[] = [
  ['an estimate outside of its own interval', saidWith({ stores: estimate(5, 6, 7) })],
  [
    'the lowest of tonight is over the present reading',
    saidWith({ ...at(28), outlook: { ...well.outlook, tonightMinC: estimate(33.9), chanceBelow: 1 } }),
  ],
  [
    'under the limit now, and not certain to be tonight',
    saidWith({ ...at(28), outlook: { ...well.outlook, tonightMinC: estimate(28), chanceBelow: 0.2 } }),
  ],
  ['chilling is told of a nest that is warm', saidWith(at(34.5), ['brood-chilling'])],
  ['a chill is foreseen that is there already', saidWith(at(27.4), ['chilling-tonight'])],
  ['the brood looks right while it chills, fails or is too weak', saidWith(at(34.5), ['probe-or-nest'])],
  [
    'a lowest tonight of a probe that may lie elsewhere',
    saidWith({ ...at(34.5), outlook: { ...well.outlook, tonightMinC: estimate(20) } }, ['probe-or-nest']),
  ],
  ['two findings about one warmth', saidWith(at(27), ['brood-chilling', 'brood-too-hot'])],
  [
    'cold of the brood is told of a probe that may lie elsewhere',
    saidWith(at(27), ['probe-or-nest', 'too-weak-to-keep-warm']),
  ],
  [
    'a finding about a brood that no reading tells of',
    saidWith({ brood: { ...well.brood, latestC: null, latestAtMs: null } }, ['brood-chilling']),
  ],
  [
    'a dose with another newest reading than the brood',
    saidWith({ ...at(34.5), doses: [dose('open-brood', 'cold', 32, 31)] }),
  ],
  [
    'the nest fails and agrees with a laying queen',
    saidWith({
      failing: { ...well.failing, state: 'failing' },
      regulation: { ...well.regulation, state: 'agreeing' },
    }),
  ],
  [
    'a failing in the signal and not in the alert, or the other way round',
    saidWith(at(34.5), ['colony-failing']),
  ],
  [
    'foragers gone at the gate and not in the signal, or the other way round',
    saidWith(leaving, [], { gate: goneGate }),
  ],
  ['the alert says foragers gone and the signal does not', saidWith(leaving, ['foragers-gone'])],
  ['foragers gone and foragers leaving at once', saidWith({}, ['foragers-gone', 'foragers-held-in'])],
  [
    'more bees left than came',
    saidWith({
      drift: { ...well.drift, bees: estimate(7800) },
    }),
  ],
  [
    'bees lost without a mass lost',
    saidWith({ drift: { ...well.drift, massG: unknown, bees: estimate(500) } }),
  ],
  ['days of stores without their weight', saidWith({ stores: estimate(5), storesG: unknown })],
  [
    'the night at the gate and not in the signal, or the other way round',
    saidWith({ outlook: { ...well.outlook, tonightMinC: estimate(33) } }, [], {
      gate: { ...saidBy(well).gate, outlook: { text: 'none', tooCold: 'unknown' } },
    }),
  ],
  [
    'robbing at the gate and not in the signal, or the other way round',
    saidWith({}, [], { gate: { ...saidBy(well).gate, robbing: 'Robbing is under way.' } }),
  ],
  [
    'a step by hand and bees that left, for the same grams',
    saidWith({
      steps: [{ atMs: noon - 30 * 60_000, sizeG: -400, sizeSdG: 5, kind: 'unexplained' }],
      massDepartures: [
        {
          fromMs: noon - 3_600_000,
          toMs: noon,
          lossG: 400,
          lossSdG: 30,
          temperatureFollowed: null,
          homeByMs: null,
          why: '400 g within the hour',
        },
      ],
    }),
  ],
];

describe('each rule finds what is put wrong on purpose', () => {
  it('nothing where all is well', () => {
    expect(disagreements(saidWith(at(34.5)))).toEqual([]);
  });
  it.each(doubles)('%s', (finds, said) => {
    expect(disagreements(said)).toContain(finds);
  });
  it('and every rule has its double', () => {
    expect(doubles.map(([finds]) => finds).sort()).toEqual([...ruleNames].sort());
  });
});
