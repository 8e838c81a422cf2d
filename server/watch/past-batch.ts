/**
 * How the nucs of a batch stood against one another in the past. They are compared by whole days, so that a standing changes
 * once a day, and where the log says that another of them was split; the brood probe of each is all that it takes.
 */
import type { IntroductionState } from '../introduction/state.ts';
import { broodDay } from '../signals/brood/brood-day.ts';
import { marginMs, temperatureBins } from '../signals/day.ts';
import { daysBetween, type LocalDay } from '../signals/days.ts';
import { between } from '../signals/series.ts';
import type { BroodDay, Series } from '../signals/types.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Store } from '../store/store.ts';
import { dayZeroOf, overAfterMs, standingHourMs, standings, type Batch, type BatchNuc } from './batches.ts';
import { fold } from './nuc-analysis.ts';
import { nucContext, type NucContext } from './nuc-context.ts';
import { placeSeries } from './nuc-series.ts';
import { longestSpanMs, seriesFromMs } from './past-nuc.ts';
import { hourMs } from '../durations.ts';

interface Span {
  readonly fromMs: number;
  readonly toMs: number;
}

interface Standings {
  readonly atMs: number;
  readonly ofNuc: ReadonlyMap<string, Batch>;
}

/** Keeps what it works out for a batch: one nuc of it after another is asked about. */
export class PastBatches {
  readonly #store: Store;
  readonly #known = new Map<string, readonly Standings[]>();

  constructor(store: Store) {
    this.#store = store;
  }

  /** How a nuc stood at instants of the span; null where it is in no batch or had not begun. */
  of(nuc: Hive, span: Span): (nowMs: number) => Batch | null {
    const all = nuc.batch === undefined ? [] : this.#standings(nuc.batch, span);
    return (nowMs) => all.findLast(({ atMs }) => atMs <= nowMs)?.ofNuc.get(nuc.id) ?? null;
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

interface Begun {
  readonly state: IntroductionState | null;
  readonly dayZero: string | null;
}

class Member {
  readonly #context: NucContext;
  readonly #broodC: Series | undefined;
  /** By how much of the log was written: the same log is folded once. */
  readonly #logs = new Map<number, Begun>();
  readonly #days: readonly LocalDay[];
  readonly #known = new Map<LocalDay, BroodDay | null>();

  constructor(store: Store, nuc: Hive, { fromMs, toMs }: Span) {
    this.#context = nucContext(store, nuc);
    this.#broodC = placeSeries(store, nuc, 'brood', fromMs - longestSpanMs, toMs + 1);
    this.#days = daysBetween(this.#context.site.timeZone, this.#broodC?.atMs[0] ?? Infinity, toMs);
  }

  /** Full hours at which another day is over, or another beginning of it is known. */
  changesMs({ fromMs, toMs }: Span): number[] {
    const { site, log } = this.#context;
    const overMs = daysBetween(site.timeZone, fromMs - 2 * 24 * hourMs, toMs).map(
      (day) => day.toMs + overAfterMs,
    );
    const beganMs = log
      .map(({ writtenAtMs }) => writtenAtMs)
      .filter((atMs) => this.#asOf(atMs).dayZero !== this.#asOf(atMs - 1).dayZero);
    return [...overMs, ...beganMs].map((atMs) => Math.ceil(atMs / hourMs) * hourMs);
  }

  at(nowMs: number): BatchNuc {
    const { nuc, site } = this.#context;
    const { dayZero, state } = this.#asOf(nowMs);
    const fromMs = seriesFromMs(state, nowMs);
    const broodDays: BroodDay[] = [];
    for (const day of this.#days) {
      if (day.toMs > nowMs - overAfterMs) break;
      const found = day.toMs > fromMs ? this.#broodDay(day, fromMs) : null;
      if (found) broodDays.push(found);
    }
    return { nuc, site, dayZero, broodDays };
  }

  /** What was written of the log by then. When a nuc began stays the same until more is. */
  #asOf(nowMs: number): Begun {
    const log = this.#context.log.filter(({ writtenAtMs }) => writtenAtMs <= nowMs);
    let then = this.#logs.get(log.length);
    if (!then) {
      const state = fold({ ...this.#context, log }, nowMs);
      this.#logs.set(log.length, (then = { state, dayZero: dayZeroOf(state, this.#context.site) }));
    }
    return then;
  }

  /** As read from `fromMs` on; a day that lies wholly after that, with what cleans its beginning, is read once. */
  #broodDay(day: LocalDay, fromMs: number): BroodDay | null {
    if (day.fromMs - marginMs < fromMs) return this.#read(day, fromMs);
    let known = this.#known.get(day);
    if (known === undefined) this.#known.set(day, (known = this.#read(day, -Infinity)));
    return known;
  }

  #read(day: LocalDay, fromMs: number): BroodDay | null {
    return broodDay(day, temperatureBins(day, between(this.#broodC, fromMs, Infinity)));
  }
}
