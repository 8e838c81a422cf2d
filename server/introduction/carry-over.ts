/** What the log of an introduction that failed already knows about the nuc, for the next one. */
import { developmentMs } from '../biology/duration.ts';
import { eggStageDays, highEnd } from '../biology/figures.ts';
import type { StartingPoint } from './log/facts.ts';
import { mayBeOut } from './queen/queen-state.ts';
import type { CarriedEvidence, Interval } from './log/setup.ts';
import type { IntroductionState } from './state.ts';

/** Outcomes after which its bees are in the nuc no more: those that come into it next are of another colony. */
const endsBees: ReadonlySet<string> = new Set(['absconded', 'united']);

/** Outcomes after which a mated queen lays on in it, and nobody knows until when. */
const laysOn: ReadonlySet<string> = new Set(['accepted', 'superseded']);

const notKnown: Interval = { earliestMs: null, latestMs: null, restsOn: [] };

/** Evidence for the next introduction's set-up. Eggs of the queen that was lost move the last fertile egg. */
export function carryOver(state: IntroductionState): CarriedEvidence {
  const { queen, evidence, outcome } = state;
  const { layingWorkers, suspected, balledAtMs, diseaseAtMs } = state.signs;
  const how = outcome?.outcome ?? '';
  const { queenMayBeOut = false } = state.setup.carried ?? {};
  // Of one that was let out in an introduction before this one, and that nothing has shown to be gone.
  const earlierMayBeOut =
    queen.earlierMayBeOut || (queenMayBeOut && state.split === null && evidence.queenless !== 'shown');
  if (endsBees.has(how))
    return {
      lastFertileEgg: notKnown,
      queenlessSince: notKnown,
      // What makes brood sick stays in the combs and in the box.
      signs: { layingWorkers: null, balledAtMs: null, diseaseAtMs },
      queenMayBeOut: false,
    };
  const signs = { layingWorkers: layingWorkers ?? suspected, balledAtMs, diseaseAtMs };
  const letOut = queen.releasedAtMs !== null;
  const egg = letOut ? lastEggOfHers(state) : evidence.lastFertileEgg;
  if (laysOn.has(how))
    return {
      lastFertileEgg: { ...egg, latestMs: null },
      queenlessSince: notKnown,
      signs,
      queenMayBeOut: true,
    };
  return {
    lastFertileEgg: egg,
    queenlessSince: letOut
      ? {
          // A queen that laid no egg never ended the time without a laying queen.
          earliestMs: queen.firstEggsAtMs === null ? evidence.queenlessSince.earliestMs : queen.releasedAtMs,
          latestMs: egg.latestMs,
          restsOn: egg.restsOn,
        }
      : evidence.queenlessSince,
    signs,
    queenMayBeOut: earlierMayBeOut || (mayBeOut(queen) && how !== 'queen-killed'),
  };
}

/** Once she was out she may have laid until she was found missing, whether or not her eggs were seen. */
function lastEggOfHers({ queen, evidence, outcome, nowMs }: IntroductionState): Interval {
  const seen = queen.firstEggsAtMs === null ? [] : ['eggs of the queen that was lost'];
  return {
    earliestMs:
      queen.firstEggsAtMs === null
        ? evidence.lastFertileEgg.earliestMs
        : queen.firstEggsAtMs - developmentMs(highEnd(eggStageDays)),
    latestMs: outcome?.atMs ?? queen.deadAtMs ?? nowMs,
    restsOn: [...seen, 'the introduction before ended then'],
  };
}

/** Which of the starting points an introduction that ended leads into; a split where its bees are gone. */
export function nextStartingPoint(state: IntroductionState): StartingPoint {
  if (endsBees.has(state.outcome?.outcome ?? '')) return 'planned-split';
  const cells = state.looks.leftStanding !== null;
  const until = state.windows.nothingRearableFromMs;
  const laid = state.queen.firstEggsAtMs !== null;
  return cells || laid || until === null || state.nowMs < until
    ? 'queenless-with-cells'
    : 'hopelessly-queenless';
}
