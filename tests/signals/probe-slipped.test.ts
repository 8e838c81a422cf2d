/** Simulated nucs whose brood probe slips out between the boxes' wall and the bees: told as such, not as chilling brood. */
import { describe, expect, it } from 'vitest';
import { rules } from '../../server/rules/catalogue/registry.ts';
import { replay } from '../../server/rules/engine/replay.ts';
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import type { Series } from '../../server/signals/types.ts';
import type { Truth } from '../../simulator/colony/truth.ts';
import { nucInput, stage } from '../rules/made-up.ts';
import { dayMs, simulatedCase } from './simulated.ts';

const hourMs = 3_600_000;
const minuteMs = 60_000;
/** Of the way from the box to the nest that the probe still sees, and when it slipped, days after the split. */
const slips = [
  { seed: 701, share: 0.1, day: 2.2 },
  { seed: 706, share: 0.45, day: 3.6 },
  { seed: 711, share: 0.25, day: 4.4 },
] as const;
const cold = ['brood-chilling', 'chilling-ahead', 'chilling-tonight'];

/** The readings of a probe that slips at `slipMs`, with its lag of some minutes. */
function slipping(broodC: Series, truth: Truth, slipMs: number, share: number): Series {
  const value = broodC.value.map((before, i) => {
    const atMs = broodC.atMs[i] as number;
    if (atMs < slipMs) return before;
    const minute = Math.min(truth.minutes - 1, Math.floor((atMs - truth.startMs) / minuteMs));
    const [boxC, nestC] = [truth.boxC[minute] as number, truth.broodC[minute] as number];
    const left = Math.exp(-(atMs - slipMs) / (8 * minuteMs));
    return before * left + (boxC + share * (nestC - boxC)) * (1 - left);
  });
  return { atMs: broodC.atMs, value };
}

describe('a brood probe that slipped out of a warm nest', () => {
  it.each(slips)('is found within hours (seed $seed), and its cold is not the brood’s', (slip) => {
    const { nuc, input } = simulatedCase({ seed: slip.seed, setting: 'usual', days: 7, scenario: 'clean' });
    const slipMs = nuc.splitMs + slip.day * dayMs;
    const { broodC, outsideC } = input.series;
    if (!broodC || !outsideC) throw new Error('the simulated nuc has no probes');
    const series = { broodC: slipping(broodC, nuc.truth, slipMs, slip.share), outsideC };
    const cache = newAnalysisCache();
    let changedFromMs = -Infinity;
    const { raisings } = replay({
      fromMs: slipMs - 4 * hourMs,
      toMs: slipMs + 36 * hourMs,
      stepMs: 15 * minuteMs,
      rules: rules.filter(({ on }) => on === 'nuc'),
      inputsAt: (nowMs) => {
        const events = input.events.filter(({ atMs }) => atMs <= nowMs);
        const signals = analyseNuc({ ...input, series, events, changedFromMs }, nowMs, cache);
        changedFromMs = nowMs;
        return [nucInput({ nowMs, introduction: stage(), signals, timeZone: nuc.place.timeZone })];
      },
    });
    const found = raisings.find(({ ruleId }) => ruleId === 'probe-or-nest');
    expect((found?.raisedAtMs ?? Infinity) - slipMs).toBeLessThan(6 * hourMs);
    expect(raisings.filter(({ ruleId }) => cold.includes(ruleId))).toEqual([]);
  });
});
