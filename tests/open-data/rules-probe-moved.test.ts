/**
 * UrBAN, Abdollahi et al. 2024, doi 10.20383/103.0972: the probe of hive 3690 read 24 °C for the last days of September
 * and jumped back into the brood at the inspection of 5 October. It had lain outside of the brood: once the inspection
 * is logged, what it read before is no cold that the brood suffered, and no night that foretells the next: the signals are
 * those of a probe that began to read at the inspection.
 */
import { describe, expect, it } from 'vitest';
import { replay, type Raising } from '../../server/rules/engine/replay.ts';
import { analyseNuc, newAnalysisCache } from '../../server/signals/analyse.ts';
import { between } from '../../server/signals/series.ts';
import type { NucSignals } from '../../server/signals/types.ts';
import { caged, nucInput } from '../rules/made-up.ts';
import { montreal, montrealPlace, present } from './data.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
/** The inspection, as the log of the hive has it: 5 October 2021, 17:25 local time. */
const inspectedMs = Date.parse('2021-10-05T17:25:00-04:00');
const chilling = ['brood-chilling', 'chilling-ahead', 'chilling-tonight', 'colony-failing', 'probe-or-nest'];

/** What the rules raise about warmth from a day before the inspection to three days after it, were brood at stake. */
function watched(logged: boolean, readFromMs = -Infinity): { raised: readonly Raising[]; last: NucSignals } {
  const { hive, outside, inspections } = montreal(3690);
  const broodC = between(hive, readFromMs, Infinity);
  const cache = newAnalysisCache();
  const introduction = caged({ queenCagedSinceMs: null });
  const stepMs = 20 * minuteMs;
  let last: NucSignals | undefined;
  const { raisings } = replay({
    fromMs: inspectedMs - dayMs,
    toMs: inspectedMs + 3 * dayMs,
    stepMs,
    inputsAt: (nowMs) => {
      const events = inspections.filter(({ atMs }) => atMs <= nowMs && (logged || atMs !== inspectedMs));
      last = analyseNuc(
        {
          series: { broodC, outsideC: outside },
          place: montrealPlace,
          events,
          broodRegime: () => 'sealed-brood',
          changedFromMs: nowMs - stepMs,
        },
        nowMs,
        cache,
      );
      const lastVisitAtMs = events.at(-1)?.atMs ?? null;
      return [nucInput({ nowMs, introduction, signals: last, lastVisitAtMs })];
    },
  });
  return { raised: raisings.filter(({ ruleId }) => chilling.includes(ruleId)), last: last! };
}

const hoursAfter = (atMs: number | null): number => ((atMs ?? Infinity) - inspectedMs) / hourMs;
const said = (raised: readonly Raising[]): string[] =>
  raised.map(
    ({ ruleId, raisedAtMs, endedAtMs }) =>
      `${ruleId} ${hoursAfter(raisedAtMs).toFixed(1)} to ${hoursAfter(endedAtMs).toFixed(1)} h`,
  );

describe.runIf(present)('a probe that jumps back into the brood at an inspection', () => {
  it('is asked about as a probe, never told as chilling, and is settled sooner where the inspection is logged', () => {
    const [logged, unlogged] = [watched(true), watched(false)];
    console.info(`inspection logged: ${said(logged.raised).join(', ')}`);
    console.info(`not logged: ${said(unlogged.raised).join(', ')}`);
    expect(logged.last.probeJumps).toMatchObject([{ atMs: inspectedMs, explainedBy: { kind: 'visit' } }]);
    expect(unlogged.last.probeJumps).toEqual([]);
    // Until the keeper looked nobody could know; what stood then is over once the probe is warm again.
    const afterLogged = logged.raised.filter(({ raisedAtMs }) => raisedAtMs >= inspectedMs);
    const onlyReadSince = watched(true, inspectedMs).last;
    expect(logged.last.doses).toEqual(onlyReadSince.doses);
    expect(logged.last.outlook).toEqual(onlyReadSince.outlook);
    expect(afterLogged).toEqual([]);
    // A probe that hangs outside the brood is a question about the probe, not a chilling; a visit answers it sooner.
    expect(new Set([...logged.raised, ...unlogged.raised].map(({ ruleId }) => ruleId))).toEqual(
      new Set(['probe-or-nest']),
    );
    const [ended, stayed] = [logged, unlogged].map(({ raised }) =>
      Math.max(...raised.map(({ endedAtMs }) => hoursAfter(endedAtMs))),
    ) as [number, number];
    expect(ended).toBeLessThan(24);
    expect(stayed).toBeGreaterThan(ended + 6);
  }, 60_000);
});
