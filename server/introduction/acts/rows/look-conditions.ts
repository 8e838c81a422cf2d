/** When she may be looked for after she was let out, and on which day. */
import { say } from '../../../words/phrase.ts';
import { candyEatenHours, handsOffDays, lookAgainForQueenDays } from '../../../biology/figures.ts';
import { dayNumber, onDayAt, startOfDay, startOfDayAfter } from '../../calendar.ts';
import { candyGoneMs } from '../../queen/candy.ts';
import { earliestLook, earliestLookForEarlier } from '../../queen/earliest-look.ts';
import { letOutByHand } from '../../queen/let-out-by-hand.ts';
import { lastOf, ofKind } from '../../log/effective-facts.ts';
import { behindCandy, metHer, sawHerEggs } from '../../queen/what-looks-tell.ts';
import {
  lookWindow,
  nextVisit,
  searchAgainWindow,
  type Clock,
  type StepWindow,
} from '../days/plan-windows.ts';
import type { IntroductionState } from '../../state.ts';
import { notClosed, present } from '../common-conditions.ts';
import type { ActKind, Draft } from '../draft.ts';
import { noBeesLeft } from '../frames-of-bees.ts';
import { blocked, cite, faulty, met, pending, unknown, type Condition } from '../condition.ts';
import { type Situation } from '../situation.ts';
import { cellsMayBeLeft } from '../starts.ts';

/** When she was let out, or is going to be. */
export const outAt = ({ state, draftOf }: Situation): number | null =>
  state.queen.releasedAtMs ?? draftOf('open-candy')?.targetMs ?? null;

/** Where nobody knows when she comes, it is counted from that day, as her release is. */
export function fromArrival({ draftOf, clock }: Situation, { targetMs }: StepWindow): Partial<Draft> {
  const open = draftOf('open-candy');
  if (open?.afterArrivalDays === undefined) return {};
  return { afterArrivalDays: open.afterArrivalDays + dayNumber(open.targetMs, targetMs, clock.timeZone) };
}

/** Looks for her, and inspections that met her or saw her eggs. */
export const lookedSince = ({ facts, setup }: IntroductionState, releasedMs: number) =>
  [
    ...ofKind(facts, 'looked-for-queen').filter(
      ({ atMs, fact }) => !behindCandy(atMs, fact, releasedMs, setup.method),
    ),
    ...ofKind(facts, 'inspection').filter(
      ({ atMs, fact }) => metHer(atMs, fact, releasedMs) || sawHerEggs(atMs, fact, releasedMs),
    ),
  ]
    .filter(({ atMs }) => atMs >= releasedMs)
    .toSorted((a, b) => a.atMs - b.atMs);

export const over = ({ queen, outcome }: IntroductionState): boolean =>
  outcome !== null || queen.where === 'gone' || queen.where === 'dead';

/** One that was let out before the queen that is awaited, or hangs now, has her days outside still; null else. */
export function earlierHandsOff({ queen, setup }: IntroductionState, nowMs: number): Condition | null {
  if (queen.releasedAtMs !== null || !queen.earlierMayBeOut) return null;
  const untilMs = earliestLookForEarlier(queen, setup);
  return nowMs >= untilMs
    ? null
    : blocked(
        'Hands off',
        'The queen that was let out before needs her days outside: a look now can get her killed.',
        { untilMs },
        cite('days of hands off', handsOffDays),
      );
}

/** She flew off before she was let out, and nobody has looked in it since; null else. Queens often come back (common practice). */
export function flewOffMs({ queen, facts }: IntroductionState): number | null {
  if (queen.where !== 'gone' || queen.releasedAtMs !== null) return null;
  const flown = lastOf(ofKind(facts, 'queen-escaped').filter(({ fact }) => fact.to === 'outside'))?.atMs;
  if (flown === undefined) return null;
  const looked = facts.some(
    ({ atMs, fact: { kind } }) => (kind === 'looked-for-queen' || kind === 'inspection') && atMs > flown,
  );
  return looked ? null : flown;
}

/** She may be back: the cells are looked for as late as they can wait, so that one visit does for them and for her. */
export function notBeforeHerLook({ state, clock }: Situation, window: StepWindow): StepWindow {
  const flownMs = flewOffMs(state);
  if (flownMs === null) return window;
  const her = searchAgainWindow(flownMs, clock);
  const hour = onDayAt(window.latestMs, 0, clock.visitHour, clock.timeZone);
  const lastMs = hour <= window.latestMs ? hour : onDayAt(hour, -1, clock.visitHour, clock.timeZone);
  const targetMs = Math.min(her.targetMs, lastMs);
  if (targetMs <= window.targetMs) return window;
  return { ...window, earliestMs: startOfDay(targetMs, clock.timeZone), targetMs };
}

/** She is looked for some days after she flew off, or in the visit of cells that can't wait so long. */
export function perhapsBackWindow({ draftOf, clock }: Situation, flownMs: number): StepWindow {
  const her = searchAgainWindow(flownMs, clock);
  const visits = (['cut-cells', 'second-look'] as const).flatMap((kind) => {
    const cells = draftOf(kind);
    return cells && !cells.done && cells.targetMs > flownMs ? [cells.targetMs] : [];
  });
  const targetMs = Math.min(her.targetMs, ...visits);
  return { ...her, earliestMs: Math.min(her.earliestMs, startOfDay(targetMs, clock.timeZone)), targetMs };
}

/** One that came back is left alone for some days, as one that was let out is; null where none flew off, or these are over. */
export function perhapsBack({ state, nowMs, clock, draftOf }: Situation): Condition | null {
  const flownMs = flewOffMs(state);
  if (flownMs === null) return null;
  const untilMs = (draftOf('look-again') ?? searchAgainWindow(flownMs, clock)).earliestMs;
  return nowMs >= untilMs
    ? null
    : pending(
        'She flew off: look after some days',
        'A queen that flew off often comes back: leave the nuc shut for some days, then look for her and for eggs.',
        { untilMs },
        cite('days to the look', lookAgainForQueenDays),
      );
}

function outSince(state: IntroductionState): string {
  if (state.queen.outByAccident) return 'she got out';
  if (!letOutByHand(state)) return 'the candy was opened';
  return state.setup.method === 'push-in-cage' ? 'the mesh was lifted' : 'she was let out';
}

function nobodyLeft(state: IntroductionState): Condition | null {
  const { where, releasedAtMs, earlierMayBeOut } = state.queen;
  if (noBeesLeft(state))
    return blocked('No bees are left', 'At the last count no bees were left: log how it ended.', {
      first: 'unite',
    });
  if (earlierMayBeOut || (where !== 'dead' && where !== 'gone')) return null;
  const flew = where === 'gone' && releasedAtMs === null;
  return pending(
    where === 'dead' ? 'The queen is dead' : 'The queen is gone',
    `${flew ? 'She flew off, and was not found since' : 'Nobody is left to look for'}: log the next one when she arrives.`,
    { first: 'queen-arrives' },
  );
}

function handsOff(situation: Situation): Condition {
  const { state, evidence, nowMs, clock } = situation;
  const { queen, setup } = state;
  const { releasedAtMs } = queen;
  const missedMs = lastOf(queen.notFoundAtMs);
  if (missedMs !== undefined) {
    const again = cite('days to the next look', lookAgainForQueenDays);
    const untilMs = startOfDayAfter(missedMs, lookAgainForQueenDays.value, setup.timeZone);
    return nowMs >= untilMs
      ? met('Days have passed since she was not found.', again)
      : pending(
          'She was not found: look again after some days',
          'Not finding a queen is not losing her: leave the nuc shut for four to five days, then look again.',
          { untilMs },
          again,
        );
  }
  if (flewOffMs(state) !== null)
    return (
      perhapsBack(situation) ??
      met('Days have passed since she flew off.', cite('days to the look', lookAgainForQueenDays))
    );
  const noneLeft = nobodyLeft(state);
  if (noneLeft) return noneLeft;
  if (releasedAtMs === null && queen.earlierMayBeOut)
    return earlierHandsOff(state, nowMs) ?? met('The queen that was let out before is looked for.');
  if (releasedAtMs === null)
    return pending(
      setup.method === 'push-in-cage' ? 'The mesh is on her' : 'The candy is not open yet',
      'The queen has not been let out.',
      { first: 'open-candy' },
    );
  const figure = cite('days of hands off', handsOffDays);
  const { outByAccident, cageEmptyAtMs, stillInCageAtMs } = queen;
  const byHand = letOutByHand(state);
  const release = { releasedAtMs, outByAccident, cageEmptyAtMs, stillInCageAtMs };
  const { leastMs, betterMs } = earliestLook(release, setup.method, setup.timeZone);
  const since = outSince(state);
  if (nowMs < leastMs) {
    const seenOut = cageEmptyAtMs !== null && !byHand ? 'she was found to be out of her cage' : null;
    return byHand || outByAccident || seenOut
      ? blocked(
          'Hands off',
          `Not three full days since ${seenOut ?? since}: a look now can get the queen killed.`,
          { untilMs: leastMs },
          figure,
        )
      : blocked(
          'Hands off',
          stillInCageAtMs !== null && stillInCageAtMs > candyGoneMs(releasedAtMs)
            ? 'She was still in her cage at the last look. Once out she needs three full days: a look now can get her killed.'
            : 'Bees take up to three days through the candy, and she needs three full days after that: a look now can get the queen killed.',
          { untilMs: leastMs },
          cite('hours until she is out', candyEatenHours),
        );
  }
  if (nowMs >= betterMs) return met(`A week has passed since ${since}.`, figure);
  if (betterMs > beforeVirginMs(state, clock))
    return met(
      'Three full days have passed, and cells may be left: look for them before a virgin can emerge.',
      figure,
    );
  return evidence.trouble
    ? met(say`Three full days have passed, and there is a cause to look: ${evidence.trouble}`, figure)
    : pending(
        'Better wait for the week',
        'Three full days have passed; a week is better where nothing is wrong.',
        { untilMs: betterMs },
        figure,
      );
}

/** Robbers get in through an open box: they are shut out first. */
function robbing({ evidence: { robbing: why }, nowMs, clock }: Situation): Condition | null {
  return why === undefined
    ? null
    : pending(
        'Being robbed: look later',
        say`${why} Narrow the entrance to one bee’s width, hang a wet sheet before it, move the nuc at dusk if that is not enough. Open it once the robbing has ended.`,
        { untilMs: startOfDayAfter(nowMs, 1, clock.timeZone) },
      );
}

function weather({ evidence: { weather: w }, nowMs, clock }: Situation): Condition {
  if (!w) return unknown('Choose a warm, calm hour.');
  if (w.fitToOpen === 'unknown') return unknown(w.text);
  return w.fitToOpen
    ? met(w.text)
    : pending('Not in this weather', w.text, { untilMs: startOfDayAfter(nowMs, 1, clock.timeZone) });
}

/** Robbers and cold keep the box shut today, unless tomorrow is too late for what is to be done. */
export function fitToOpen(situation: Situation, kind: ActKind): readonly Condition[] {
  const { evidence, draftOf, nowMs, clock } = situation;
  const draft = draftOf(kind);
  const lastMs = draft && !draft.offered ? draft.latestMs : Infinity;
  const canWait = onDayAt(nowMs, 1, clock.visitHour, clock.timeZone) <= lastMs;
  return present([robbing(situation), evidence.weather ? weather(situation) : null]).map((condition) =>
    canWait || !condition.unmet
      ? condition
      : faulty(say`${condition.reason.text} This can’t wait until tomorrow.`),
  );
}

export const lookConditions = (situation: Situation): readonly Condition[] =>
  present([notClosed(situation.state), handsOff(situation), robbing(situation), weather(situation)]);

/** Cells, or larvae for them, may be left beside her: cells are looked for on the day before a virgin can emerge. */
function beforeVirginMs(state: IntroductionState, { timeZone, visitHour }: Clock): number {
  const fromMs = state.windows.virginPossible?.fromMs ?? null;
  return cellsMayBeLeft(state) && fromMs !== null ? onDayAt(fromMs, -1, visitHour, timeZone) : Infinity;
}

export function lookFrom({ state, clock }: Situation, releasedAtMs: number): StepWindow {
  const { queen, setup } = state;
  const { outByAccident, cageEmptyAtMs, stillInCageAtMs } = queen;
  const release = { releasedAtMs, outByAccident, cageEmptyAtMs, stillInCageAtMs };
  const { leastMs } = earliestLook(release, setup.method, setup.timeZone);
  const window = lookWindow(releasedAtMs, leastMs, clock);
  const visitMs = nextVisit(leastMs, clock);
  const soonestMs = Math.max(visitMs, beforeVirginMs(state, clock));
  return { ...window, targetMs: Math.max(visitMs, Math.min(window.targetMs, soonestMs)) };
}
