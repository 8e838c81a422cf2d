/** No two statements about one quantity of one nuc disagree, at any instant of any scenario. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { scenarioNames } from '../../simulator/scenarios.ts';
import { newAnalysisCache, analyseNuc } from '../../server/signals/analyse.ts';
import { replay } from '../../server/rules/engine/replay.ts';
import { broodChilling } from '../../server/rules/catalogue/temperature/brood-chilling.ts';
import { chillingAhead } from '../../server/rules/catalogue/temperature/chilling-ahead.ts';
import { chillingTonight } from '../../server/rules/catalogue/temperature/chilling-tonight.ts';
import { probeOrNest } from '../../server/rules/catalogue/temperature/probe-or-nest.ts';
import type { NucSignals } from '../../server/signals/types.ts';
import { nucInput, stage } from '../rules/made-up.ts';
import { dayMs, simulatedCase } from './simulated.ts';

const hourMs = 3_600_000;
const days = 8;
const rules = [broodChilling, chillingAhead, chillingTonight, probeOrNest];

const instants = fc.record({
  scenario: fc.constantFrom(...scenarioNames),
  seed: fc.integer({ min: 1, max: 100_000 }),
  share: fc.integer({ min: 0, max: 999 }),
});

function signalsAt({
  scenario,
  seed,
  share,
}: {
  scenario: (typeof scenarioNames)[number];
  seed: number;
  share: number;
}) {
  const { nuc, input } = simulatedCase({ seed, setting: 'usual', days, scenario });
  const nowMs = nuc.splitMs + dayMs + Math.round(((share / 1000) * (days - 1) * dayMs) / 60_000) * 60_000;
  const events = input.events.filter(({ atMs }) => atMs <= nowMs);
  const timeZone = nuc.place.timeZone;
  return { signals: analyseNuc({ ...input, events }, nowMs, newAnalysisCache()), nowMs, events, timeZone };
}

/** Rules that say yes at that instant, whatever their hold. */
function saying(signals: NucSignals, nowMs: number, timeZone: string): string[] {
  const inputs = [nucInput({ nowMs, signals, introduction: stage(), timeZone })];
  const limits = {
    sites: {},
    nucs: {},
    farm: Object.fromEntries(rules.map(({ id }) => [id, { holdMin: 0 }])),
  };
  return replay({
    fromMs: nowMs,
    toMs: nowMs,
    stepMs: 60_000,
    rules,
    limits,
    inputsAt: () => inputs,
  }).raisings.map(({ ruleId }) => ruleId);
}

describe('at any instant of any scenario', () => {
  it('the statements about the brood’s warmth agree', () => {
    fc.assert(
      fc.property(instants, (drawn) => {
        const { signals, nowMs, timeZone } = signalsAt(drawn);
        const { brood, outlook } = signals;
        const said = saying(signals, nowMs, timeZone);
        const isSilent = brood.latestAtMs === null || nowMs - brood.latestAtMs > hourMs;
        if (isSilent) {
          // A silent probe gives no figure, and no finding.
          expect([brood.levelC.ok, brood.shareInBand.ok, outlook.tonightMinC.ok]).toEqual([
            false,
            false,
            false,
          ]);
          expect(outlook.chanceBelow).toBeNull();
          expect(said).toEqual([]);
          return;
        }
        const latestC = brood.latestC as number;
        // The lowest of tonight is no warmer than now, give or take what ten minutes of readings scatter.
        if (outlook.tonightMinC.ok) expect(outlook.tonightMinC.value).toBeLessThan(latestC + 2);
        if (said.includes('brood-chilling')) expect(latestC).toBeLessThan(outlook.limitC);
        if (said.includes('chilling-ahead') || said.includes('chilling-tonight'))
          expect(latestC).toBeGreaterThanOrEqual(outlook.limitC);
        // Chilling, ahead and probe-or-nest exclude each other.
        const about = said.filter((id) => id !== 'chilling-tonight');
        expect(about.length, about.join()).toBeLessThanOrEqual(1);
        if (said.includes('probe-or-nest')) expect(said).toEqual(['probe-or-nest']);
      }),
      { numRuns: 40 },
    );
  }, 120_000);
});
