/** An introduction of the store as its fold wants it. */
import { atHourOfDate } from '../introduction/calendar.ts';
import type { IntroductionSetup } from '../introduction/state.ts';
import type { Introduction } from '../store/field-log/introductions.ts';
import type { Store } from '../store/store.ts';

/** The post comes about noon where nobody says otherwise. */
export const postHour = 12;

export function setupOf(store: Store, introduction: Introduction, timeZone: string): IntroductionSetup {
  const { id, nucId, startingPoint, method, openedAtMs, queenId, arrivalId } = introduction;
  const planned = introduction.setup['plannedSplit'];
  const plannedSplitMs = typeof planned === 'string' ? Date.parse(planned) : NaN;
  const arrival = arrivalId === undefined ? undefined : store.queens.arrival(arrivalId);
  return {
    id,
    nucId,
    startingPoint,
    method,
    timeZone,
    openedAtMs,
    ...(Number.isFinite(plannedSplitMs) ? { plannedSplitMs } : {}),
    ...(queenId === undefined ? {} : { queenId }),
    ...(arrival
      ? { expectedQueenMs: atHourOfDate(arrival.arrived ?? arrival.expected, postHour, timeZone) }
      : {}),
    ...(arrival?.arrived === undefined ? {} : { deliveryIsHere: true }),
  };
}
