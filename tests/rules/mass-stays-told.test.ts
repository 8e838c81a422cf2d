import { describe, expect, it } from 'vitest';
import { leftInAMass } from '../../server/rules/catalogue/foragers/left-in-a-mass.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import type { MassDeparture } from '../../server/signals/types.ts';
import { hour, minute, noon, nucInput, nucSubject, signals } from './made-up.ts';

/** The same fall, as each new reading sizes it anew. */
const fall = (temperatureFollowed: boolean | null): MassDeparture => ({
  fromMs: noon - 55 * minute,
  toMs: noon - 25 * minute,
  lossG: 650,
  lossSdG: 20,
  temperatureFollowed,
  homeByMs: noon + 8 * hour,
  why: 'steep',
});
const evaluate = (massDepartures: readonly MassDeparture[]) =>
  leftInAMass.evaluate(
    nucInput({ signals: signals({ massDepartures }) }),
    limitsFor(leftInAMass, nucSubject, noLimitSettings),
  );

describe('bees that left in a mass, once told', () => {
  it('stay told where the fall is dated later, so that the brood has not been read after it yet', () => {
    expect(evaluate([fall(true)])).toMatchObject({ verdict: 'yes' });
    expect(evaluate([fall(null)])).toMatchObject({ verdict: 'no', clear: false });
  });
  it('are over where the brood stayed warm, and where the weight came back', () => {
    expect(evaluate([fall(false)])).toMatchObject({ verdict: 'no', clear: true });
    expect(evaluate([])).toMatchObject({ verdict: 'no', clear: true });
  });
});
