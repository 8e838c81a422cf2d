/** Cutting cells: early, and late enough to count. */
import {
  firstCutDay,
  firstVirginDays,
  mostCellsByDays,
  pushInCageDays,
  lowEnd,
} from '../../../biology/figures.ts';
import { developmentMs } from '../../../biology/duration.ts';
import { dayNumber, onDayAt, startOfDay, startOfDayAfter } from '../../calendar.ts';
import { lastOf } from '../../log/effective-facts.ts';
import { leavesNoCell } from '../../log/looks.ts';
import { didNotCome } from '../days/awaited-queen.ts';
import {
  cutWindow,
  late,
  nextVisit,
  openWindow,
  ownQueenWindow,
  type StepWindow,
} from '../days/plan-windows.ts';
import { letOutAlive } from '../../queen/queen-state.ts';
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import type { ActKind, Draft } from '../draft.ts';
import { begun, eggsTellFromMs, notClosed, present } from '../common-conditions.ts';
import { hiveSigns } from '../hive-signs.ts';
import { lookDone, soon, soonFor, type Situation } from '../situation.ts';
import { cutOnTheDay, cutTwice, nothingToCut } from '../starts.ts';
import { search } from '../words.ts';
import { cutConditions, earlierLeftAlone, nextCut } from './cut-conditions.ts';
import { tooFewBees } from './hang-conditions.ts';
import { fitToOpen, notBeforeHerLook } from './look-conditions.ts';

/** The cut that can be made now: while larvae are young enough only an early one. */
export const cutNow = (state: IntroductionState, nowMs: number): ActKind => {
  if (nothingToCut(state)) return 'look-through';
  if (cutOnTheDay(state) || nowMs >= (state.windows.lateCutFromMs ?? -Infinity)) return nextCut(state);
  return 'early-cut';
};

/** The last egg is this old, as far as anything tells. */
const lastEggMs = ({ evidence }: IntroductionState, fromMs: number): number =>
  evidence.likelyLastEggMs ?? fromMs;

/** The window of a laying queen's own cut: the day on which she is let out. */
export function ownRelease(
  { state, nowMs, clock }: Situation,
  fromMs: number,
): {
  readonly hang: StepWindow;
  readonly release: StepWindow;
} {
  const { queen, setup } = state;
  const inSince = queen.inCageSinceMs ?? setup.expectedQueenMs ?? null;
  const hang = late(ownQueenWindow(fromMs, inSince, clock), nowMs, clock);
  return {
    hang,
    release:
      setup.method === 'push-in-cage'
        ? openWindow(fromMs, queen.inCageSinceMs ?? hang.targetMs, null, true, clock)
        : hang,
  };
}

export const lookedToday = ({ looks, setup, nowMs }: IntroductionState) => {
  const last = lastOf(looks.complete);
  return last && dayNumber(last.atMs, nowMs, setup.timeZone) === 0 ? last : undefined;
};

/** The bees are to be enough, and calm, before she is let out, and so before the cut of that visit. */
export const notCalm = ({ state, nowMs }: Situation): boolean =>
  tooFewBees(state) ||
  (state.queen.inCageSinceMs !== null && hiveSigns(state, nowMs).some(({ unmet }) => unmet));

/** She has not come: what stands is cut before a virgin may emerge, and then on the day she comes. */
function cutWithoutHer({ state, nowMs, clock }: Situation, fromMs: number): Draft {
  const virginMs = fromMs + developmentMs(lowEnd(firstVirginDays));
  const lateMs = state.windows.lateCutFromMs ?? startOfDay(virginMs, clock.timeZone);
  if (state.looks.complete.some(({ atMs }) => atMs >= lateMs))
    return { ...soon({ nowMs, clock }), why: [onTheDay], afterArrivalDays: 0 };
  const window = {
    earliestMs: fromMs,
    targetMs: onDayAt(virginMs, 0, clock.visitHour, clock.timeZone),
    latestMs: virginMs,
  };
  return {
    ...late(window, nowMs, clock),
    why: ['She has not come: cut what stands before a virgin may emerge, and again the day she is let out.'],
  };
}

const onTheDay = 'A laying queen of your own needs every cell cut on the day on which she is let out.';

function ownCut(situation: Situation, fromMs: number): Draft {
  const { state, nowMs, clock, draftOf } = situation;
  if (didNotCome(state) && !lookedToday(state)) return cutWithoutHer(situation, fromMs);
  const last = lastOf(state.looks.complete);
  const window = late(ownRelease(situation, fromMs).release, nowMs, clock);
  // Under a mesh that stays on for days the cut of today is made again.
  const staysOn = state.setup.method === 'push-in-cage' && nowMs < window.earliestMs;
  const fresh = staysOn ? undefined : lookedToday(state);
  const done = state.queen.releasedAtMs === null ? fresh : last;
  // A test frame or a look for eggs tells first: she is not let out before.
  const frameMs = draftOf('test-frame-out')?.targetMs ?? -Infinity;
  const tellsMs =
    state.evidence.queenless === 'not-shown' ? nextVisit(eggsTellFromMs(state), clock) : -Infinity;
  const targetMs = Math.max(window.targetMs, frameMs, tellsMs);
  return {
    earliestMs: window.earliestMs,
    targetMs,
    latestMs: Math.max(window.latestMs, targetMs),
    done: lookDone(done),
    // Nobody knows yet whether she can be let out that day.
    offered: notCalm(situation),
    why: [onTheDay],
  };
}

export const cutCells: ActRow = {
  kind: 'cut-cells',
  settles: 'that no cell stands and none can be started',
  draft: (situation) => {
    const { state, fromMs, nowMs, clock } = situation;
    const { looks, evidence, queen } = state;
    if (fromMs === null || state.outcome) return doneCut(state);
    if (cutOnTheDay(state)) {
      const cut = ownCut(situation, fromMs);
      const nobodyToLetOut = queen.releasedAtMs !== null || queen.where === 'dead' || queen.where === 'gone';
      return nobodyToLetOut && !cut.done ? null : cut;
    }
    if (letOutAlive(queen) && !looks.firstLate) return null;
    if (nothingToCut(state)) return null;
    const queenlessMs = evidence.queenlessSince.earliestMs ?? fromMs;
    return {
      done: lookDone(looks.firstLate),
      why: [
        'From day 7 after the last egg hardly a larva is young enough for another cell; before day 8½ no virgin has emerged.',
      ],
      ...late(
        notBeforeHerLook(situation, cutWindow(lastEggMs(state, fromMs), queenlessMs, clock)),
        nowMs,
        clock,
      ),
    };
  },
  asked: soonFor,
  conditions: (situation) => cutConditions(situation),
  words: () =>
    search(
      'Cut the cells',
      'cells-cut',
      'Shake the bees off every frame and destroy every queen cell. Count them and log open, sealed, emerged and torn-down cells.',
    ),
  figures: ({ state }) =>
    cutOnTheDay(state)
      ? state.setup.method === 'push-in-cage'
        ? { earliest: pushInCageDays, best: pushInCageDays }
        : { latest: firstVirginDays }
      : { earliest: firstCutDay, best: firstCutDay, latest: firstVirginDays },
};

/** After an outcome only what was done is left. */
const doneCut = (state: IntroductionState): Draft | null => {
  const { firstLate } = state.looks;
  return firstLate && cutTwice(state)
    ? {
        earliestMs: firstLate.atMs,
        targetMs: firstLate.atMs,
        latestMs: firstLate.atMs,
        done: lookDone(firstLate),
        why: [],
      }
    : null;
};

/** Brood that was brought in puts the cut that counts off, and older cells open before it; null where none can. */
function beforeTheyOpen({ state, nowMs, clock }: Situation, cut: Draft): Draft | null {
  const openMs = state.virgin.possibleFromMs;
  if (openMs === null || openMs >= cut.earliestMs) return null;
  const dayBefore = onDayAt(openMs, -1, clock.visitHour, clock.timeZone);
  const window = late(
    { earliestMs: startOfDay(dayBefore, clock.timeZone), targetMs: dayBefore, latestMs: openMs },
    nowMs,
    clock,
  );
  return window.targetMs < cut.earliestMs
    ? {
        ...window,
        why: ['A virgin may emerge before the cut that counts: cut what stands before that, and again then.'],
      }
    : null;
}

export const earlyCut: ActRow = {
  kind: 'early-cut',
  settles: 'that fewer cells stand on day 7, which stays',
  draft: (situation) => {
    const { state, draftOf, clock } = situation;
    const { looks, queen, day0Ms } = state;
    const cut = draftOf('cut-cells');
    if (!cutTwice(state) || day0Ms === null || !cut) return null;
    const here = queen.where === 'arrived' || queen.where === 'in-cage' || queen.where === 'taken-out';
    const before = beforeTheyOpen(situation, cut);
    if (before) return before;
    const cutOnce = looks.all.some((look) => look.cut && leavesNoCell(look));
    if (looks.leftStanding === null && (!here || cutOnce)) return null;
    const fromMs = startOfDayAfter(day0Ms, lowEnd(mostCellsByDays), clock.timeZone);
    const window = soon(situation, looks.leftStanding ? undefined : fromMs);
    if (window.targetMs >= cut.earliestMs) return null;
    return {
      earliestMs: window.earliestMs,
      targetMs: window.targetMs,
      latestMs: cut.earliestMs - 1,
      offered: true,
      why: ['It takes down what stands now. The later cut stays: until then new cells can be started.'],
    };
  },
  asked: soonFor,
  conditions: (situation) => {
    const { state, nowMs } = situation;
    return present([
      notClosed(state),
      begun(state, nowMs),
      earlierLeftAlone(state, nowMs),
      ...fitToOpen(situation, 'early-cut'),
    ]);
  },
  words: () =>
    search(
      'Early cut of cells',
      'cells-cut',
      'Shake the bees off every frame and destroy every queen cell. It is never the last cut.',
    ),
  figures: () => ({ earliest: mostCellsByDays, latest: firstCutDay }),
};
