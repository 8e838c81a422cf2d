/** Moving a split that is planned and not made, naming the delivery of its queen, or calling it off. */
import { atHourOfDate, dayNumber, isoDate } from '../introduction/calendar.ts';
import { ofKind } from '../introduction/log/effective-facts.ts';
import type { LogEntry } from '../introduction/log/facts.ts';
import { foldIntroduction } from '../introduction/state.ts';
import type { ParsedBodyOf } from '../contract/index.ts';
import { UserError } from '../user-error.ts';
import { iso } from './wire.ts';
import type { Introduction } from '../store/field-log/introductions.ts';
import type { Store } from '../store/store.ts';
import { splitHour } from './batch.ts';
import { setupOf } from './setup-of.ts';

type Change = ParsedBodyOf<'changeIntroduction'>;

/** A season ahead: a later day is a slip of the finger. */
const mostDaysAhead = 366;

interface Planned {
  readonly introduction: Introduction;
  readonly nucName: string;
  readonly timeZone: string;
}

/** The introduction as it is after the change; undefined where there is none of that id. Throws `UserError`. */
export function changeIntroduction(
  store: Store,
  id: string,
  change: Change,
  by: { readonly name: string; readonly entryId: string },
  nowMs: number,
): Introduction | undefined {
  const introduction = store.introductions.get(id);
  const nuc = introduction && store.places.hive(introduction.nucId);
  const site = nuc && store.places.site(nuc.siteId);
  if (!introduction || !site) return undefined;
  const planned: Planned = { introduction, nucName: nuc.name, timeZone: site.timeZone };
  refuseWhatIsOver(store, planned, change, nowMs);
  if (change.calledOff === true) return callOff(store, planned, change.reason, by, nowMs);
  const { arrivalId: had, setup, ...rest } = introduction;
  const { plannedSplit: day, ...otherSetup } = setup;
  const arrivalId = change.arrivalId === undefined ? had : (change.arrivalId ?? undefined);
  if (change.arrivalId !== undefined && change.arrivalId !== null) namedArrival(store, change.arrivalId);
  const plannedSplit =
    change.plannedSplit === undefined
      ? day
      : change.plannedSplit === null
        ? undefined
        : iso(splitOn(change.plannedSplit, planned, nowMs));
  if (
    plannedSplit === undefined &&
    arrivalId === undefined &&
    introduction.startingPoint === 'planned-split'
  ) {
    throw new UserError(
      'conflict',
      `The split of ${nuc.name} has no delivery to follow: name its day, or a delivery, or call it off.`,
    );
  }
  return store.introductions.update({
    ...rest,
    setup: { ...otherSetup, ...(plannedSplit === undefined ? {} : { plannedSplit }) },
    ...(arrivalId === undefined ? {} : { arrivalId }),
  });
}

function refuseWhatIsOver(
  store: Store,
  { introduction, nucName, timeZone }: Planned,
  change: Change,
  nowMs: number,
): void {
  if (introduction.closedAtMs !== undefined) {
    throw new UserError(
      'conflict',
      `The introduction in ${nucName} has ended: open a new one, or correct its outcome in the log.`,
    );
  }
  if (change.plannedSplit === undefined && change.calledOff === undefined) return;
  if (introduction.startingPoint !== 'planned-split') {
    throw new UserError(
      'conflict',
      `${nucName} did not start from a planned split: log what happened, or how it ended.`,
    );
  }
  const state = foldIntroduction(
    setupOf(store, introduction, timeZone),
    store.introductions.log(introduction.id),
    nowMs,
  );
  if (state.split) {
    throw new UserError(
      'conflict',
      `The split of ${nucName} was made on ${isoDate(state.split.atMs, timeZone)}: ` +
        (change.calledOff === true ? 'log how it ended instead.' : 'correct that entry of its log instead.'),
    );
  }
  if (
    change.calledOff === true &&
    ofKind(state.facts, 'queen-arrived').some(({ fact }) => fact.condition !== 'dead')
  ) {
    throw new UserError(
      'conflict',
      `A living queen is logged as arrived for ${nucName}: move or withdraw that entry first, so that she is not lost sight of.`,
    );
  }
}

function splitOn(date: string, { nucName, timeZone }: Planned, nowMs: number): number {
  const atMs = atHourOfDate(date, splitHour, timeZone);
  const ahead = dayNumber(nowMs, atMs, timeZone);
  if (ahead < 0) {
    throw new UserError(
      'invalid-input',
      `The split of ${nucName} can’t be planned for ${date}: that day is over. If it was made then, log it.`,
    );
  }
  if (ahead > mostDaysAhead) {
    throw new UserError(
      'invalid-input',
      `The split of ${nucName} can’t be planned for ${date}: that is more than a year ahead.`,
    );
  }
  return atMs;
}

function namedArrival(store: Store, id: string): void {
  const arrival = store.queens.arrival(id);
  if (!arrival) throw new UserError('not-found', `There is no delivery ${id}.`);
  if (arrival.state === 'cancelled') {
    throw new UserError('conflict', `The delivery ${arrival.name} is cancelled: name another.`);
  }
}

/** The log says so, and can be corrected; the queen is free for another nuc. */
function callOff(
  store: Store,
  { introduction }: Planned,
  reason: string | undefined,
  by: { readonly name: string; readonly entryId: string },
  nowMs: number,
): Introduction {
  const why = reason === undefined || reason === '' ? '' : `: ${reason}`;
  const entry: LogEntry = {
    id: by.entryId,
    introductionId: introduction.id,
    type: 'fact',
    happenedAtMs: nowMs,
    writtenAtMs: nowMs,
    by: by.name.slice(0, 80),
    note: `Called off before the split${why}`,
    fact: { kind: 'outcome', outcome: 'given-up' },
  };
  store.introductions.append([entry]);
  const { arrivalId: _free, ...rest } = introduction;
  return store.introductions.update({ ...rest, closedAtMs: nowMs });
}
