/**
 * How the nucs of a batch stood against one another in the past. They are compared by whole days, so that a standing changes
 * once a day, and where the log says that another of them was split; the brood probe of each is all that it takes.
 */
import { broodDay } from '../signals/brood-day.ts';
import { temperatureBins } from '../signals/day.ts';
import { daysBetween } from '../signals/days.ts';
import { between } from '../signals/series.ts';
import type { BroodDay, Series } from '../signals/types.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Store } from '../store/store.ts';
import { overAfterMs, standingHourMs, standings, type Batch, type BatchNuc } from './batches.ts';
import { fold } from './nuc-analysis.ts';
import { nucContext, type NucContext } from './nuc-context.ts';
import { placeSeries } from './nuc-series.ts';
import { longestSpanMs, seriesFromMs } from './past-nuc.ts';

const hourMs = 3_600_000;

interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

interface Standings {
  readonly atMs: number;
  readonly ofNuc: ReadonlyMap<string, Batch>;
}

/** Of one nuc of the batch. */
export interface PastStanding {
  /** Full hours as of which it counts as odd, or no longer, ms, rising. */
  readonly turnsMs: readonly number[];
  at(nowMs: number): Batch | null;
}

/** Keeps what it works out for a batch: one nuc of it after another is asked about. */
export class PastBatches {
  readonly #store: Store;
  readonly #known = new Map<string, readonly Standings[]>();

  constructor(store: Store) {
    this.#store = store;
  }

  of(nuc: Hive, span: Span): PastStanding {
    const all = nuc.batch === undefined ? [] : this.#standings(nuc.batch, span);
    const mostDays = ({ ofNuc }: Standings): number =>
      Math.max(0, ...(ofNuc.get(nuc.id)?.measures.map(({ daysOutside }) => daysOutside) ?? []));
    return {
      turnsMs: all
        .filter((one, i) => i > 0 && mostDays(one) !== mostDays(all[i - 1] as Standings))
        .map(({ atMs }) => atMs),
      at: (nowMs) => all.findLast(({ atMs }) => atMs <= nowMs)?.ofNuc.get(nuc.id) ?? null,
    };
  }

  #standings(batch: string, { fromMs, toMs }: Span): readonly Standings[] {
    const key = `${batch} ${String(fromMs)} ${String(toMs)}`;
    let found = this.#known.get(key);
    if (!found) this.#known.set(key, (found = standingsOver(this.#store, batch, { fromMs, toMs })));
    return found;
  }
}

function standingsOver(store: Store, batch: string, span: Span): Standings[] {
  const members = store.places
    .listHives()
    .filter((hive) => hive.role === 'nuc' && hive.batch === batch)
    .map((nuc) => new Member(store, nuc, span));
  const firstMs = standingHourMs(span.fromMs);
  const hoursMs = new Set([firstMs, ...members.flatMap((member) => member.changesMs(span))]);
  return [...hoursMs]
    .filter((atMs) => atMs >= firstMs && atMs <= span.toMs)
    .sort((a, b) => a - b)
    .map((atMs) => ({
      atMs,
      ofNuc: standings(
        members.map((member) => member.at(atMs)),
        atMs,
      ),
    }));
}

class Member {
  readonly #context: NucContext;
  readonly #broodC: Series | undefined;
  /** By how much of the log was written: the same log is folded once. */
  readonly #logs = new Map<number, NucContext>();
  /** By the day and the first reading that counts. */
  readonly #days = new Map<string, BroodDay | null>();

  constructor(store: Store, nuc: Hive, { fromMs, toMs }: Span) {
    this.#context = nucContext(store, nuc);
    this.#broodC = placeSeries(store, nuc, 'brood', fromMs - longestSpanMs, toMs + 1);
  }

  /** Full hours at which another day is over, or something more of the log is known. */
  changesMs({ fromMs, toMs }: Span): number[] {
    const { site, log } = this.#context;
    const overMs = daysBetween(site.timeZone, fromMs - 2 * 24 * hourMs, toMs).map(
      (day) => day.toMs + overAfterMs,
    );
    const writtenMs = log.map(({ writtenAtMs }) => writtenAtMs).filter((atMs) => atMs >= fromMs);
    return [...overMs, ...writtenMs].map((atMs) => Math.ceil(atMs / hourMs) * hourMs);
  }

  at(nowMs: number): BatchNuc {
    const { nuc, site } = this.#context;
    const state = fold(this.#asOf(nowMs), nowMs);
    const fromMs = seriesFromMs(state, nowMs);
    const { atMs } = between(this.#broodC, fromMs, nowMs + 1);
    const [firstMs] = atMs;
    const days = firstMs === undefined ? [] : daysBetween(site.timeZone, firstMs, nowMs - overAfterMs);
    const broodDays = days.flatMap((day) =>
      day.toMs > nowMs - overAfterMs ? [] : (this.#day(day, fromMs) ?? []),
    );
    return { nuc, site, day0Ms: state?.day0Ms ?? null, broodDays };
  }

  #asOf(nowMs: number): NucContext {
    const log = this.#context.log.filter(({ writtenAtMs }) => writtenAtMs <= nowMs);
    let then = this.#logs.get(log.length);
    if (!then) this.#logs.set(log.length, (then = { ...this.#context, log }));
    return then;
  }

  #day(day: ReturnType<typeof daysBetween>[number], fromMs: number): BroodDay | null {
    const cutMs = Math.max(fromMs, day.fromMs - 24 * hourMs);
    const key = `${day.date} ${String(cutMs)}`;
    let known = this.#days.get(key);
    if (known === undefined) {
      known = broodDay(day, temperatureBins(day, between(this.#broodC, cutMs, Infinity)));
      this.#days.set(key, known);
    }
    return known;
  }
}
