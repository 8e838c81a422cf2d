/** A simulated nuc as the store would hand it to the analysis. */
import { cleanSeries, simulateNuc, type ScenarioOptions, type SimulatedNuc } from '../../simulator/index.ts';
import type { AnalysisInput } from '../../server/signals/analyse.ts';
import type { BroodRegime, KnownEvent } from '../../server/signals/types.ts';

export const dayMs = 24 * 3_600_000;

export interface SimulatedCase {
  readonly nuc: SimulatedNuc;
  readonly input: AnalysisInput;
}

/** Regime by the calendar of a split: open brood to day 9, sealed to day 21, then hers is expected. */
function calendarRegime(splitMs: number): (atMs: number) => BroodRegime {
  return (atMs) => {
    const day = (atMs - splitMs) / dayMs;
    if (day < 9) return 'open-brood';
    return day < 21 ? 'sealed-brood' : 'new-brood-expected';
  };
}

/** What the keeper would have logged: the split and the visits of the plan. */
function logged(nuc: SimulatedNuc): KnownEvent[] {
  const visits = nuc.truth.events.filter((event) => event.kind === 'opened' && event.note !== 'handle');
  return [
    { atMs: nuc.splitMs, kind: 'split' },
    ...visits.map((event) => ({ atMs: event.atMs, kind: 'visit' as const })),
  ];
}

export function simulatedCase(options: ScenarioOptions, more: Partial<AnalysisInput> = {}): SimulatedCase {
  const nuc = simulateNuc(options);
  const { scale, brood, cage, outside, rain } = nuc.readings;
  const candyMs = nuc.truth.events.find((event) => event.kind === 'candy-opened')?.atMs;
  return {
    nuc,
    input: {
      series: {
        weightG: cleanSeries(scale, true),
        broodC: cleanSeries(brood),
        cageC: cleanSeries(cage),
        outsideC: cleanSeries(outside),
        rainMm: cleanSeries(rain),
      },
      place: nuc.place,
      events: logged(nuc),
      movedAtMs: nuc.splitMs,
      ...(candyMs === undefined ? {} : { releasedAtMs: candyMs }),
      broodRegime: calendarRegime(nuc.splitMs),
      // The keeper counts to a quarter of a frame.
      framesOfBees: Math.round(nuc.parameters.framesOfBees * 4) / 4,
      framesOfBrood: {
        sealed: nuc.parameters.framesOfSealedBrood,
        open: nuc.parameters.framesOfOpenBrood,
      },
      ...more,
    },
  };
}
