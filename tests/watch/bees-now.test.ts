/** One number of bees for the page, the answers and the alerts. */
import { describe, expect, it } from 'vitest';
import { beesNow } from '../../server/watch/bees-now.ts';
import { gateEvidence } from '../../server/watch/gate-evidence.ts';
import { inWords } from '../../server/words/phrase.ts';
import { at, cleanEntries, facts, stateAt } from '../introduction/support/field-log.ts';
import { estimate, signals, unknown } from '../rules/made-up.ts';

const state = stateAt(cleanEntries.slice(0, 1), at(4));
const display = { timeZone: 'UTC', temperature: 'C', weight: 'kg' } as const;
const drift = { ...signals().drift, bees: estimate(1500, 1200, 1800) };
const left = {
  fromMs: at(3),
  toMs: at(3),
  lossG: 700,
  lossSdG: 30,
  temperatureFollowed: null,
  homeByMs: at(3, 20),
  why: '700 g within the hour',
};

describe('the bees of today', () => {
  it('count the brood that has emerged, and what the scale saw leave', () => {
    const measured = beesNow(state, signals({ drift }));
    const more = beesNow(state, signals({ drift: { ...drift, bees: estimate(2500, 2000, 3000) } }));
    const byWeather = beesNow(state, signals({ drift: { ...drift, bees: unknown } }));
    expect([measured.ok, more.ok, byWeather.ok, beesNow(state, null).ok]).toEqual([true, true, true, true]);
    expect(measured.ok && more.ok && measured.value - more.value > 700).toBe(true);
  });
  it('are not known where the split was not counted', () => {
    expect(beesNow(stateAt([], at(4)), signals())).toMatchObject({ ok: false });
    const none = [at(0), facts.split({ framesOfBees: 0 })] as const;
    expect(beesNow(stateAt([none], at(4)), signals())).toMatchObject({ ok: false });
    const again = [at(3), facts.inspection({ framesOfBees: 3, everyFrameChecked: false })] as const;
    expect(beesNow(stateAt([none, again], at(4)), signals())).toMatchObject({ ok: true });
  });
  it('are not known once bees left together, from the dusk at which they are not home', () => {
    const seen = (nowMs: number) => signals({ drift, massDepartures: [left], nowMs });
    expect(beesNow(state, seen(at(3, 15))).ok).toBe(true);
    expect(beesNow(state, seen(at(3, 21))).ok).toBe(false);
    const { strength } = gateEvidence(seen(at(3, 21)), 0.05, state);
    expect(inWords(strength?.text ?? '', display)).toContain('not known: bees left together on');
  });
});
