/**
 * What follows from the new queen's first eggs: when her brood is sealed, when her first young emerge, when
 * a larva of hers is right for grafting, and the dates of the graft itself.
 */
import { developmentMs } from '../biology/duration.ts';
import {
  eggStageDays,
  eggsSeenAfterDays,
  graftingAgeDays,
  queenCellSealedDays,
  queenEmergesDays,
  workerEmergesDays,
  workerSealedDays,
  highEnd,
  lowEnd,
  usualVisitHour,
} from '../biology/figures.ts';
import { addDays, onDayAt } from './calendar.ts';
import { eggsInDoubt, layingSignWords } from './brood/eggs-in-doubt.ts';
import { ofKind } from './log/effective-facts.ts';
import type { LayingSign } from './log/signs.ts';
import { mayBeOut } from './queen/queen-state.ts';
import type { IntroductionState } from './state.ts';

export interface Milestone {
  readonly id: string;
  readonly atMs: number;
  readonly text: string;
}

export type BroodFinding = 'not-yet' | 'worker-brood' | 'drone-layer' | 'no-eggs-yet' | 'failing';

export interface AfterAcceptance {
  readonly milestones: readonly Milestone[];
  readonly finding: BroodFinding;
  readonly findingText: string;
}

const visitHour = usualVisitHour.value;

/** Eggs seen at `atMs` were laid within the egg stage before: the earliest that her first can be. */
const firstLaid = (eggsSeenMs: number, releasedMs: number): number =>
  Math.max(releasedMs, eggsSeenMs - developmentMs(eggStageDays.value));

function fromEggs(
  eggsSeenMs: number,
  releasedMs: number,
  sealedSeenMs: number | null,
  timeZone: string,
): readonly Milestone[] {
  const laidMs = firstLaid(eggsSeenMs, releasedMs);
  const on = (days: number): number => onDayAt(laidMs, Math.ceil(days), visitHour, timeZone);
  // Counted from the sight: by then every first egg is sealed; or from when it was seen sealed.
  const sealedMs = Math.min(
    onDayAt(eggsSeenMs, workerSealedDays.value + 1, visitHour, timeZone),
    sealedSeenMs ?? Infinity,
  );
  return [
    { id: 'first-eggs', atMs: eggsSeenMs, text: 'Her first eggs were seen.' },
    {
      id: 'first-graft',
      atMs: on(graftingAgeDays.value),
      text: 'Earliest day on which a larva of hers is 12 to 20 hours old, right for grafting; up to 24 hours is common practice.',
    },
    {
      id: 'sealed-brood',
      atMs: sealedMs,
      text: 'Her brood is sealed: flat cappings are worker brood, domed ones in worker cells a drone layer.',
    },
    {
      id: 'proven-graft',
      atMs: sealedMs,
      text: 'First day on which grafting from her is safe to plan: her sealed worker brood proves that she is mated.',
    },
    { id: 'first-young', atMs: on(workerEmergesDays.value), text: 'The first young of her own emerge.' },
  ];
}

/** Dates of a graft, counted from the larvae's age at grafting. */
export function graftDates(graftedAtMs: number, timeZone: string): readonly Milestone[] {
  const on = (daysFromLay: number): number =>
    addDays(graftedAtMs, Math.round(daysFromLay - graftingAgeDays.value), timeZone);
  const earliest = lowEnd(queenEmergesDays);
  return [
    { id: 'grafted', atMs: graftedAtMs, text: 'Larvae grafted.' },
    {
      id: 'graft-sealed',
      atMs: on(highEnd(queenCellSealedDays)),
      text: 'The cells are sealed.',
    },
    {
      id: 'graft-move-by',
      atMs: on(earliest - 1),
      text: 'Move the cells to their nucs by now: the first can emerge the day after.',
    },
    { id: 'graft-emerge', atMs: on(queenEmergesDays.value), text: 'The virgins emerge.' },
  ];
}

function doubtText({ eggsStand }: LayingSign): string {
  const where =
    eggsStand === 'bottom'
      ? 'They stand on the bottom, as hers do.'
      : 'Where do the eggs stand? On the bottom they are hers, on the walls workers’.';
  return `Several eggs in a cell: a young or just released queen lays so for some days. ${where} Look again in 3 to 4 days: worker cappings decide.`;
}

function finding(state: IntroductionState): Pick<AfterAcceptance, 'finding' | 'findingText'> {
  const { queen, signs, nowMs, setup } = state;
  const released = queen.releasedAtMs;
  if (signs.layingWorkers && released !== null && signs.layingWorkers.atMs >= released) {
    const doubt = eggsInDoubt(state);
    return doubt === null
      ? { finding: 'drone-layer', findingText: `${layingSignWords[signs.layingWorkers.what]}.` }
      : { finding: 'not-yet', findingText: doubtText(doubt) };
  }
  if (queen.notFoundAtMs.length > 0 && queen.firstEggsAtMs !== null) {
    return { finding: 'failing', findingText: 'At the last look neither she nor eggs were found.' };
  }
  if (queen.sealedWorkerBroodAtMs !== null) {
    return {
      finding: 'worker-brood',
      findingText: 'Her sealed worker brood was seen: she is mated and laying.',
    };
  }
  if (queen.firstEggsAtMs !== null) {
    return {
      finding: 'not-yet',
      findingText: 'Her eggs were seen; only sealed brood shows whether she is mated.',
    };
  }
  const late = released !== null && nowMs >= addDays(released, highEnd(eggsSeenAfterDays), setup.timeZone);
  return late
    ? { finding: 'failing', findingText: 'No eggs two weeks after the release: she is failing or gone.' }
    : { finding: 'no-eggs-yet', findingText: 'No eggs of hers were seen yet.' };
}

export function afterAcceptance(state: IntroductionState): AfterAcceptance {
  const { queen, setup, facts } = state;
  const eggs =
    mayBeOut(queen) && queen.firstEggsAtMs !== null && queen.releasedAtMs !== null
      ? fromEggs(queen.firstEggsAtMs, queen.releasedAtMs, queen.sealedWorkerBroodAtMs, setup.timeZone)
      : [];
  const grafts = ofKind(facts, 'grafted').flatMap(({ atMs, id }) =>
    graftDates(atMs, setup.timeZone).map((m) => ({ ...m, id: `${m.id}:${id}` })),
  );
  return { milestones: [...eggs, ...grafts].toSorted((a, b) => a.atMs - b.atMs), ...finding(state) };
}
