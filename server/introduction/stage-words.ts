/** Where an introduction stands, in the trade's words: a name, and one line. */
import { noBeesLeft } from './acts/frames-of-bees.ts';
import { cellsMayBeLeft, cutOnTheDay, nothingToCut, oldQueenToBeFound } from './acts/starts.ts';
import { disprovedFromMs, eggsInDoubt, layingSignWords, perhapsHers } from './brood/eggs-in-doubt.ts';
import { earliestLook, heldInCage } from './queen/earliest-look.ts';
import { inHand, noEggsForTwoWeeks, strangerSeen } from './queen/queen-state.ts';
import { cellEmerged, cellsAfterRelease, rivalSeen } from './cells/rival-seen.ts';
import type { Stage } from './stage.ts';
import type { IntroductionState } from './state.ts';

export interface StageWords {
  readonly name: string;
  readonly line: string;
}

const words: Readonly<Record<Stage, StageWords>> = {
  planned: { name: 'planned', line: 'The split has not been made yet.' },
  'foragers-leaving': {
    name: 'foragers leaving',
    line: 'The old bees fly home to the parent’s stand and leave nurse bees and brood.',
  },
  'waiting-to-cut': {
    name: 'waiting to cut cells',
    line: 'Cells are cut once no larva is young enough for another.',
  },
  'second-look-due': {
    name: 'waiting for the second look',
    line: 'Cells were cut; a second look on every frame finds what the first one missed.',
  },
  'waiting-for-queen': {
    name: 'ready, no queen yet',
    line: 'No cell is left and nothing to raise one from; the nuc waits for its queen.',
  },
  caged: { name: 'queen caged', line: 'The queen hangs in her cage with the candy end closed.' },
  'candy-open': { name: 'candy open', line: 'The bees are eating through the candy to the queen.' },
  'hands-off': { name: 'hands off', line: 'The nuc stays shut: a look now can get the queen killed.' },
  'check-due': { name: 'check due', line: 'Look for the queen and her eggs.' },
  accepted: { name: 'accepted', line: 'The queen was seen, or her eggs were.' },
  failed: { name: 'failed', line: 'The queen is dead or gone.' },
  closed: { name: 'closed', line: 'An outcome is logged; nothing more is planned.' },
};

/** Where the queen sits under mesh that is pressed over emerging brood. */
const underMesh: Readonly<Partial<Record<Stage, StageWords>>> = {
  caged: { name: 'queen under the mesh', line: 'The queen sits under the mesh, among emerging bees.' },
  'candy-open': { name: 'mesh lifted', line: 'The queen walks free: a look now can get her killed.' },
};

const stillCaged: StageWords = {
  name: 'still caged',
  line: 'Her way out was opened, and she is still in the cage.',
};

/** A check that is due because of what was seen since she was let out. */
function inDoubt(state: IntroductionState): StageWords | undefined {
  const { queen, signs } = state;
  const { releasedAtMs } = queen;
  if (releasedAtMs === null) return undefined;
  if (rivalSeen(state))
    return {
      name: 'a virgin is in it',
      line: 'A virgin was seen beside her, and is not logged as taken away.',
    };
  if (eggsInDoubt(state))
    return {
      name: 'eggs in doubt',
      line: 'Several eggs in a cell: hers for some days, or workers’. Worker cappings decide.',
    };
  if (signs.layingWorkers && signs.layingWorkers.atMs >= releasedAtMs) {
    const { what } = signs.layingWorkers;
    return {
      name: what === 'drone-brood-in-worker-cells' ? 'drone brood' : 'laying workers',
      line: `${layingSignWords[what]}.`,
    };
  }
  if (cellEmerged(state))
    return {
      name: 'a virgin may be out',
      line: 'A living cell was seen beside her and never cut: by now its virgin is out, or the bees tore it down.',
    };
  if (cellsAfterRelease(state))
    return { name: 'a cell stands', line: 'A living queen cell was seen since she was let out.' };
  if (queen.inCageSinceMs !== null) return stillCaged;
  if (queen.notFoundAtMs.length > 0)
    return { name: 'not found', line: 'She was not found, which does not mean that she is gone.' };
  return queen.where === 'seen-loose' && noEggsForTwoWeeks(state)
    ? { name: 'no eggs', line: 'She was seen, and no egg two weeks after she was let out.' }
    : undefined;
}

/** She may be looked for by now: a week is only better. */
function daysOutsideOver({ queen, setup, nowMs }: IntroductionState): boolean {
  const { releasedAtMs } = queen;
  return (
    releasedAtMs !== null &&
    nowMs >= earliestLook({ ...queen, releasedAtMs }, setup.method, setup.timeZone).leastMs
  );
}

/** What stands in the way of a queen that is awaited. */
function notReady(state: IntroductionState): StageWords | undefined {
  const { virgin, signs } = state;
  if (signs.layingWorkers && perhapsHers(state))
    return {
      name: 'workers may lay',
      line: 'The queen that is gone laid what was seen, or workers do: a test frame tells.',
    };
  if (disprovedFromMs(state) !== null)
    return {
      name: 'workers may lay',
      line: 'Signs of laying workers were seen, and none at the last look: a second look tells.',
    };
  if (signs.layingWorkers)
    return { name: 'laying workers', line: 'Workers lay in it, and they kill a queen.' };
  if (virgin.loose === 'seen')
    return { name: 'a virgin is in it', line: 'A virgin was seen, and is not logged as taken away.' };
  if (state.queen.earlierMayBeOut)
    return {
      name: 'an earlier queen may be out',
      line: 'A queen was let out before, and nothing shows that she is gone.',
    };
  return looseQueen(state);
}

/** A queen was seen that nobody let out. */
const looseQueen = ({ evidence, queen }: IntroductionState): StageWords | undefined =>
  queen.releasedAtMs === null && (evidence.layingQueenSeen || strangerSeen(queen))
    ? { name: 'a queen is in it', line: 'A queen was seen walking free, and is not logged as taken away.' }
    : undefined;

/** What the way it began, or an accident, makes of a stage. */
function special(state: IntroductionState): StageWords | undefined {
  if (noBeesLeft(state) && !state.outcome)
    return { name: 'no bees left', line: 'At the last count no bees were left in it.' };
  const bar = notReady(state);
  switch (state.stage) {
    case 'planned':
      return oldQueenToBeFound(state)
        ? { name: 'old queen in it', line: 'The old queen is still to be found and taken away.' }
        : undefined;
    case 'foragers-leaving':
    case 'caged':
      return bar;
    case 'waiting-to-cut':
      if (bar) return bar;
      if (nothingToCut(state))
        return {
          name: 'to be looked through',
          line: 'Nothing is left to raise a queen from: a look on every frame comes first.',
        };
      return cutOnTheDay(state)
        ? { name: 'waiting to cut cells', line: 'Cells are cut on the day on which she is let out.' }
        : undefined;
    case 'second-look-due':
      if (bar) return bar;
      return cutOnTheDay(state)
        ? {
            name: 'cells cut',
            line: 'Cells were cut. They are cut again where she is let out on a later day.',
          }
        : undefined;
    case 'waiting-for-queen':
      return (
        bar ??
        (inHand(state.queen)
          ? { name: 'queen at hand', line: 'She is at hand; hang her cage when the answers allow it.' }
          : undefined)
      );
    case 'candy-open':
    case 'hands-off':
      if (heldInCage(state)) return stillCaged;
      if (daysOutsideOver(state))
        return (
          inDoubt(state) ?? {
            name: state.queen.outByAccident ? 'out by accident' : 'hands off',
            line: cellsMayBeLeft(state)
              ? 'She has had three full days outside; a week is better, but cells may be left: look for them and for her.'
              : 'She has had three full days outside; a week is better where nothing is wrong.',
          }
        );
      return state.queen.outByAccident
        ? {
            name: 'out by accident',
            line: 'She got out by accident: the nuc stays shut, then she is looked for.',
          }
        : undefined;
    case 'check-due':
      return inDoubt(state);
    default:
      return undefined;
  }
}

/** `foragersGone`: the scale has seen them go before the days that they usually take are over. */
export const stageWords = (state: IntroductionState, foragersGone = false): StageWords =>
  (state.stage === 'foragers-leaving' && foragersGone ? words['waiting-to-cut'] : undefined) ??
  special(state) ??
  (state.setup.method === 'push-in-cage' ? underMesh[state.stage] : undefined) ??
  words[state.stage];
