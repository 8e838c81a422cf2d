/** Looks for cells after the cut: the second one, one more, and one in passing. */
import { lookWorthChance, secondLookAfterDays } from '../../../biology/figures.ts';
import { chanceInWords } from '../../../words/chance.ts';
import { dayNumber, onDayAt, startOfDay, startOfDayAfter } from '../../calendar.ts';
import { lastOf } from '../../log/effective-facts.ts';
import type { CellLook } from '../../log/looks.ts';
import { inHand, letOutAlive } from '../../queen/queen-state.ts';
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import { comesMsOf, wantsQueen } from '../days/late-queen.ts';
import {
  cageReadyMs,
  late,
  nextVisit,
  oneMoreLookWindow,
  openWindow,
  secondLookWindow,
  type StepWindow,
} from '../days/plan-windows.ts';
import type { Draft } from '../draft.ts';
import { lookDone, soon, soonFor, type Situation } from '../situation.ts';
import { cutTwice } from '../starts.ts';
import { search } from '../words.ts';
import { hang } from './hang-window.ts';
import { nextWorkersLookMs } from './worker-conditions.ts';
import { cutConditions } from './cut-conditions.ts';
import { notBeforeHerLook } from './look-conditions.ts';

/** A look for cells after the cut was made today, and not on every frame. */
function leftFramesOut({ looks, setup, nowMs }: IntroductionState): boolean {
  const last = lastOf(looks.all.filter((look) => look.cut && !look.glance));
  if (!last || last === looks.firstLate || last.complete) return false;
  return dayNumber(last.atMs, nowMs, setup.timeZone) === 0;
}

/** On the day of that look or the next: the cells grow on, so the last day does not move with today. */
const seenAndLeft = ({ nowMs, clock }: Situation, look: CellLook): Draft => ({
  why: ['Living cells were seen and left.'],
  ...late(soon({ nowMs: look.atMs, clock }), nowMs, clock),
});

export const secondLook: ActRow = {
  kind: 'second-look',
  settles: 'what the first cut missed',
  draft: (situation) => {
    const { state, draftOf, nowMs, clock } = situation;
    const { looks, queen } = state;
    const cut = draftOf('cut-cells');
    if (!cut || !cutTwice(state) || (letOutAlive(queen) && !looks.second)) return null;
    if (state.outcome && !looks.second) return null;
    // Cells that were seen since the cut are cut at once: their virgins do not wait for the day of the second look.
    if (looks.firstLate && looks.leftStanding && !looks.second)
      return seenAndLeft(situation, looks.leftStanding);
    const window = notBeforeHerLook(
      situation,
      secondLookWindow(looks.firstLate?.atMs ?? cut.targetMs, clock),
    );
    // Frames that the cut left out do not wait for the third day: the oldest cells there are about to open.
    const unfinished = looks.firstLate !== null && looks.late.length === 0;
    const firstDayMs = onDayAt(window.earliestMs, 0, clock.visitHour, clock.timeZone);
    const targetMs = unfinished ? Math.min(window.targetMs, firstDayMs) : window.targetMs;
    return {
      done: lookDone(looks.firstSecond),
      why: [
        leftFramesOut(state)
          ? 'Frames were left out today, or bees not shaken off: finish it in the same visit.'
          : 'It finds most of the cells that the first look missed.',
      ],
      ...late({ ...window, targetMs }, nowMs, clock),
    };
  },
  conditions: (situation) => cutConditions(situation),
  words: () =>
    search(
      'Second look for cells',
      'cells-cut',
      'Look through every frame again, bees shaken off, and cut what is left.',
    ),
  figures: () => ({ earliest: secondLookAfterDays, best: secondLookAfterDays, latest: secondLookAfterDays }),
};

/**
 * Visits that are made anyway: the one in which she is hung, where its day is known, and the one on which she could be
 * let out by her cage alone.
 */
function visitsAnyway({ state, nowMs, clock }: Situation): readonly number[] {
  const { queen, setup } = state;
  const readyMs = (hungMs: number): number =>
    nextVisit(cageReadyMs(hungMs, setup.method === 'push-in-cage', clock), clock);
  if (queen.inCageSinceMs !== null) return [readyMs(queen.inCageSinceMs)];
  if (inHand(queen)) {
    const today = onDayAt(nowMs, 0, clock.visitHour, clock.timeZone);
    return [today, readyMs(today)];
  }
  if (!wantsQueen(state)) return [];
  const comesMs = comesMsOf(state);
  // One that is late may come any day.
  if (comesMs === null) return [readyMs(nextVisit(nowMs, clock))];
  const hangMs = nextVisit(Math.max(nowMs, comesMs), clock);
  return [hangMs, readyMs(hangMs)];
}

/** The visit in which she is hung, or let out no sooner than the look that tells of laying workers; its days do not move with today. */
function visitOfHers(situation: Situation): Omit<StepWindow, 'earliestMs'> | null {
  const { state, nowMs, fromMs, clock } = situation;
  const { queen, setup } = state;
  if (queen.inCageSinceMs !== null) {
    const hungMs = queen.inCageSinceMs;
    const mesh = setup.method === 'push-in-cage';
    const readyMs = nextVisit(cageReadyMs(hungMs, mesh, clock), clock);
    const targetMs = Math.max(readyMs, nextWorkersLookMs(situation));
    return { targetMs, latestMs: openWindow(targetMs, hungMs, queen.arrivedAtMs, mesh, clock).latestMs };
  }
  if (!inHand(queen)) return null;
  const { earliestMs, latestMs } = hang(situation, fromMs ?? nowMs);
  return { targetMs: onDayAt(earliestMs, 0, clock.visitHour, clock.timeZone), latestMs };
}

/** She is hung or let out on a later day than the last look: the nuc is open anyway, and every look finds some of what is left. */
function lookInPassing(situation: Situation, lastMs: number): Draft | null {
  const { state, sure, nowMs, clock } = situation;
  const { queen } = state;
  // A queen that is known or feared in there is found first, and bees with laying workers are united: she is not let out on that visit.
  if (state.virgin.loose === 'seen' || lastOf(state.testFrames)?.answer === 'maybe-a-queen') return null;
  if (state.signs.layingWorkers) return null;
  const { chance, condition } = sure() ?? { chance: 0, condition: null };
  const hangs = queen.inCageSinceMs === null;
  const visit = visitOfHers(situation);
  if (visit === null || condition?.unmet || chance <= lookWorthChance.value) return null;
  const visitMs = Math.max(visit.targetMs, onDayAt(nowMs, 0, clock.visitHour, clock.timeZone));
  if (dayNumber(lastMs, visitMs, clock.timeZone) < 1) return null;
  // She is hung when every cell has opened: a look as she is let out will do.
  if (hangs && visitMs > (state.windows.virginPossible?.untilMs ?? Infinity)) return null;
  const targetMs = Math.max(visit.targetMs, onDayAt(lastMs, 1, clock.visitHour, clock.timeZone));
  const window = {
    earliestMs: startOfDay(targetMs, clock.timeZone),
    targetMs,
    latestMs: Math.max(visit.latestMs, startOfDayAfter(targetMs, 1, clock.timeZone) - 1),
  };
  return {
    ...late(window, nowMs, clock),
    why: [
      `The nuc is opened to ${hangs ? 'hang her' : 'let her out'}: a look then finds some of what is left. The chance of a rival is ${chanceInWords(chance)}.`,
    ],
  };
}

export const oneMoreLook: ActRow = {
  kind: 'one-more-look',
  settles: 'what both looks missed',
  draft: (situation) => {
    const { state, sure, nowMs, clock, draftOf } = situation;
    if (state.outcome || letOutAlive(state.queen) || !cutTwice(state)) return null;
    const last = lastOf(state.looks.complete)?.atMs ?? nowMs;
    if (state.looks.leftStanding && state.looks.second)
      return seenAndLeft(situation, state.looks.leftStanding);
    const wanted = sure();
    if (!wanted?.oneMoreLook) return lookInPassing(situation, last);
    const visitMs = visitsAnyway(situation).find((atMs) => wanted.settledBy?.(atMs) === true) ?? null;
    // Nobody is let out before a frame that is in has told: the look is made when it comes out.
    const frameMs = draftOf('test-frame-in')?.done ? draftOf('test-frame-out')?.targetMs : undefined;
    const withMs = frameMs ?? visitMs;
    return {
      why: [wanted.condition.reason.text],
      ...late(oneMoreLookWindow(last, wanted.oneMoreLook.untilMs ?? last, withMs, clock), nowMs, clock),
    };
  },
  asked: soonFor,
  conditions: (situation) => cutConditions(situation),
  words: () =>
    search(
      'One more look for cells',
      'cells-cut',
      'Look through every frame once more, bees shaken off, and cut what is left.',
    ),
};
