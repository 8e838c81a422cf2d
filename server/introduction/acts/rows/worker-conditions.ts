/** The chance that workers lay when she is let out: in the one chance of a rival with what the cells say. */
import { layingWorkersClearedDays, layingWorkersWatchDays } from '../../../biology/figures.ts';
import { chanceInWords, chancesBeside } from '../../../words/chance.ts';
import { nothingYoungSeen } from '../../brood/brood-sights.ts';
import { dayNumber, startOfDayAfter } from '../../calendar.ts';
import { lastOf, type EffectiveFact } from '../../log/effective-facts.ts';
import { cleanWorkerLooks, layingWorkersChance } from '../../brood/laying-chance.ts';
import { mayBeOut } from '../../queen/queen-state.ts';
import type { IntroductionState } from '../../state.ts';
import { cite, met, pending, type Condition } from '../condition.ts';
import { nextVisit } from '../days/plan-windows.ts';
import { chanceLimitOf, type Situation } from '../situation.ts';

const headline = 'Look for laying workers first';

/** Either of two that have nothing to do with each other. */
const either = (one: number, other: number): number => 1 - (1 - one) * (1 - other);

/** Eggs seen today beside a queen under her mesh, and nobody wrote whether they stand outside it too. */
function placeNotSaid({ facts, setup, queen, nowMs }: IntroductionState): boolean {
  if (setup.method !== 'push-in-cage' || queen.inCageSinceMs === null) return false;
  const looks = facts.filter(
    ({ fact }) =>
      (fact.kind === 'inspection' || fact.kind === 'cells-cut') && fact.youngestBrood !== 'not-looked',
  );
  const { atMs, fact }: Partial<EffectiveFact> = lastOf(looks) ?? {};
  if (atMs === undefined || (fact?.kind !== 'inspection' && fact?.kind !== 'cells-cut')) return false;
  return (
    fact.eggsOutsideMesh === undefined &&
    !nothingYoungSeen(fact) &&
    dayNumber(atMs, nowMs, setup.timeZone) === 0
  );
}

/** Null while none can lay yet, once a queen is out, where nothing dates the last egg, and where their signs decide. */
export function workersChance(state: IntroductionState, nowMs: number): number | null {
  const { signs, windows, queen } = state;
  const watchFrom = windows.layingWorkersWatchFromMs;
  return signs.layingWorkers || mayBeOut(queen) || watchFrom === null || nowMs < watchFrom
    ? null
    : layingWorkersChance(state, nowMs);
}

export function workersMayLay(situation: Situation): Condition | null {
  const { state, nowMs, sure } = situation;
  const limit = chanceLimitOf(situation);
  const { setup } = state;
  const chance = workersChance(state, nowMs);
  if (chance === null) return null;
  const figure = cite('days without a queen', layingWorkersWatchDays);
  const said = `Chance that workers lay: ${chancesBeside(limit)(chance)}`;
  const cells = sure()?.chance ?? 0;
  // Where the cells alone are too much, their look comes first.
  if (either(chance, cells) <= limit || cells > limit) return met(`${said}.`, figure);
  const over = `${said}${cells > 0 ? `, and ${chanceInWords(cells)} for a cell that was missed` : ''}; over ${chanceInWords(limit)}.`;
  if (placeNotSaid(state)) {
    const text = `${over} Eggs were seen, and she may have laid them: look whether any stand outside the mesh.`;
    return pending(headline, text, { first: 'look-through' }, figure);
  }
  const last = lastOf(cleanWorkerLooks(state))?.atMs;
  // Eggs that the last look passed over are eggs still on the next days.
  const fromMs =
    last === undefined ? nowMs : startOfDayAfter(last, layingWorkersClearedDays.value, setup.timeZone);
  const soSoon = nowMs < fromMs;
  return pending(
    headline,
    `${over} Look on every frame for eggs and for drone brood in worker cells${soSoon ? ', longer after the last look than an egg lasts' : ''}.`,
    soSoon ? { first: 'look-through', fromMs, untilMs: fromMs } : { first: 'look-through' },
    figure,
  );
}

/** The day of the next look for them, where the last one is too fresh for another; -Infinity else. */
export function nextWorkersLookMs(situation: Situation): number {
  const metBy = workersMayLay(situation)?.unmet?.metBy;
  return metBy && 'first' in metBy && metBy.untilMs !== undefined
    ? nextVisit(metBy.untilMs, situation.clock)
    : -Infinity;
}
