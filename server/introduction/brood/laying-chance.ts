/**
 * The chance that workers lay in the nuc. From the day on which they are to be watched for, every day finds the same
 * share of the colonies beginning, and half have begun when it is likely; none begins once a caged queen hangs among them
 * (common practice). A look on every frame finds their eggs, but for what it misses; few of them start queen cells on a
 * test frame. Bayes on a grid of the day of the last egg and the day on which they began.
 */
import { developmentMs } from '../../biology/duration.ts';
import {
  droneCappingsMissedShare,
  droneSealedDays,
  highEnd,
  hopelessForDays,
  layingWorkersLikelyDays,
  layingWorkersStartCellsShare,
  layingWorkersWatchDays,
  workerEggsMissedShare,
} from '../../biology/figures.ts';
import { nothingYoungSeen } from './brood-sights.ts';
import { dayNumber } from '../calendar.ts';
import type { EffectiveFact } from '../log/effective-facts.ts';
import type { Evidence } from './evidence.ts';
import type { QueenState } from '../queen/queen-state.ts';
import type { IntroductionSetup } from '../log/setup.ts';
import { showsNoMatedQueen, signsAsked } from '../log/signs.ts';
import type { TestFrame } from '../log/test-frames.ts';

export interface LayingKnown {
  readonly setup: Pick<IntroductionSetup, 'timeZone'>;
  readonly facts: readonly EffectiveFact[];
  readonly evidence: Pick<Evidence, 'lastFertileEgg'>;
  readonly queen: Pick<QueenState, 'inCageSinceMs'>;
  readonly testFrames: readonly TestFrame[];
}

/** A look on every frame that found no sign, and no egg that a worker can have laid. */
export interface WorkerLook {
  readonly atMs: number;
}

/** Of one day the last: what it passed over, another one the same day does too. */
export function cleanWorkerLooks({
  facts,
  setup,
}: Pick<LayingKnown, 'facts' | 'setup'>): readonly WorkerLook[] {
  const looks: WorkerLook[] = [];
  for (const { atMs, fact } of facts) {
    if (fact.kind !== 'inspection' && fact.kind !== 'cells-cut') continue;
    const clean = signsAsked(fact) && !showsNoMatedQueen(fact) && nothingYoungSeen(fact);
    if (!fact.everyFrameChecked || !clean) continue;
    const last = looks.at(-1);
    if (last && dayNumber(last.atMs, atMs, setup.timeZone) === 0) looks.pop();
    looks.push({ atMs });
  }
  return looks;
}

/** Method: points of each of the two grids; more change no chance by 0.1 %. */
const points = 28;
const middles = (from: number, to: number): readonly number[] =>
  to <= from ? [from] : Array.from({ length: points }, (_, i) => from + ((to - from) * (i + 0.5)) / points);

const halfLifeDays = layingWorkersLikelyDays.value - layingWorkersWatchDays.value;
/** Days without a queen on which they begin, each as likely as the next. */
const beginDays = middles(0, 1).map(
  (share) => layingWorkersWatchDays.value - halfLifeDays * Math.log2(1 - share),
);

const cappedMs = developmentMs(highEnd(droneSealedDays));

const missedBy = (look: WorkerLook, beganMs: number): number =>
  workerEggsMissedShare.value * (look.atMs - beganMs >= cappedMs ? droneCappingsMissedShare.value : 1);

/** How likely the cells on test frames are in a colony that began then. */
const cellsAlike = (frames: readonly TestFrame[], beganMs: number): number =>
  layingWorkersStartCellsShare.value **
  frames.filter(({ answer, outMs }) => answer === 'no-queen' && (outMs ?? 0) >= beganMs).length;

/** 0..1, at `nowMs`; null where nothing dates the last egg. */
export function layingWorkersChance(known: LayingKnown, nowMs: number): number | null {
  const { evidence, facts, queen, testFrames } = known;
  const { earliestMs, latestMs } = evidence.lastFertileEgg;
  if (latestMs === null) return null;
  const oldestMs = (facts[0]?.atMs ?? nowMs) - developmentMs(hopelessForDays.value);
  const heldMs = Math.min(queen.inCageSinceMs ?? nowMs, nowMs);
  const looks = cleanWorkerLooks(known);
  let laying = 0;
  let none = 0;
  for (const eggMs of middles(Math.min(earliestMs ?? oldestMs, latestMs), latestMs))
    for (const day of beginDays) {
      const beganMs = eggMs + developmentMs(day);
      if (beganMs >= heldMs) none++;
      else
        laying += looks.reduce(
          (chance, look) => (look.atMs < beganMs ? chance : chance * missedBy(look, beganMs)),
          cellsAlike(testFrames, beganMs),
        );
    }
  return laying / (laying + none);
}
