/** What the log of an introduction that failed already knows about the nuc, for the next one. */
import { developmentMs } from '../biology/duration.ts';
import { eggStageDays, highEnd } from '../biology/figures.ts';
import type { StartingPoint } from './log/facts.ts';
import { mayBeOut } from './queen/queen-state.ts';
import type { CarriedEvidence } from './log/setup.ts';
import type { IntroductionState } from './state.ts';

/** Outcomes after which the queen that was let out is in the nuc no more. */
const endsHer: ReadonlySet<string> = new Set(['queen-killed', 'absconded', 'united']);

/** Evidence for the next introduction's set-up. Eggs of the queen that was lost move the last fertile egg. */
export function carryOver(state: IntroductionState): CarriedEvidence {
  const { queen, evidence, outcome, nowMs } = state;
  const { layingWorkers, suspected, balledAtMs, diseaseAtMs } = state.signs;
  const signs = { layingWorkers: layingWorkers ?? suspected, balledAtMs, diseaseAtMs };
  if (queen.releasedAtMs === null) {
    return {
      lastFertileEgg: evidence.lastFertileEgg,
      queenlessSince: evidence.queenlessSince,
      signs,
      queenMayBeOut: queen.earlierMayBeOut,
    };
  }
  const endedMs = outcome?.atMs ?? queen.deadAtMs ?? nowMs;
  // Once she was out she may have laid until she was found missing, whether or not her eggs were seen.
  const seen = queen.firstEggsAtMs === null ? [] : ['eggs of the queen that was lost'];
  const lastEgg = {
    earliestMs:
      queen.firstEggsAtMs === null
        ? evidence.lastFertileEgg.earliestMs
        : queen.firstEggsAtMs - developmentMs(highEnd(eggStageDays)),
    latestMs: endedMs,
    restsOn: [...seen, 'the introduction before ended then'],
  };
  return {
    lastFertileEgg: lastEgg,
    // A queen that laid no egg never ended the time without a laying queen.
    queenlessSince: {
      earliestMs: queen.firstEggsAtMs === null ? evidence.queenlessSince.earliestMs : queen.releasedAtMs,
      latestMs: endedMs,
      restsOn: lastEgg.restsOn,
    },
    signs,
    queenMayBeOut: queen.earlierMayBeOut || (mayBeOut(queen) && !endsHer.has(outcome?.outcome ?? '')),
  };
}

/** Which of the four starting points a failed introduction leads into. */
export function nextStartingPoint(state: IntroductionState): StartingPoint {
  const cells = state.looks.leftStanding !== null;
  const until = state.windows.nothingRearableFromMs;
  const laid = state.queen.firstEggsAtMs !== null;
  return cells || laid || until === null || state.nowMs < until
    ? 'queenless-with-cells'
    : 'hopelessly-queenless';
}
