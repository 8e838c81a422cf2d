/** The present state of the farm as the rules read it: where sensors stand, how they do, and what is known of each nuc. */
import type { ChannelHealth, NucInput, RuleInput } from '../rules/engine/inputs.ts';
import type { Forecast } from '../signals/types.ts';
import type { Channel } from '../store/channels/channels.ts';
import type { StoredReading } from '../store/port.ts';
import type { Store } from '../store/store.ts';
import { readWhere, type Where } from '../farm/sensor-positions.ts';
import { groupBy } from '../group-by.ts';
import { batchNucOf, standingHourMs, standings, type Batch } from './batches.ts';
import { watchChannels } from './channel-watch.ts';
import type { FarmChoices, NucAnalysis } from './nuc-analysis.ts';
import { NucStateCache } from './nuc-state-cache.ts';
import { nucInput, sensorInputs, siteInput, type WatchedChannel } from './rule-inputs.ts';

export interface FarmStateDeps {
  readonly store: Store;
  readonly choices: () => FarmChoices;
  /** For the night that is under way or comes next at an instant, as it was last told. */
  readonly forecast: (siteId: string, atMs: number) => Forecast | undefined;
}

export class FarmState {
  readonly #deps: FarmStateDeps;
  readonly #channels: ReturnType<typeof watchChannels>;
  readonly #nucs = new Map<string, NucStateCache>();
  /** As they stood at the end of an introduction that is over, for whoever reads a review within the hour. */
  readonly #ended = new Map<string, NucStateCache>();
  #positions: Where | null = null;
  #batches: ReadonlyMap<string, Batch> = new Map();
  #batchesAtMs = -Infinity;

  constructor(deps: FarmStateDeps) {
    this.#deps = deps;
    this.#channels = watchChannels(deps.store);
  }

  positions(nowMs: number): Where {
    return (this.#positions ??= readWhere(this.#deps.store, nowMs));
  }

  /** Midnight, a planned end or a keeper may have moved a sensor. */
  forgetPositions(): void {
    this.#positions = null;
  }

  readingsCame(stored: readonly StoredReading[], nowMs: number): void {
    this.#channels.note(stored, nowMs);
  }

  nuc(nucId: string): NucStateCache {
    let nuc = this.#nucs.get(nucId);
    if (!nuc) this.#nucs.set(nucId, (nuc = new NucStateCache(this.#deps.store, nucId)));
    return nuc;
  }

  nucReadingsCame(nucId: string, observedAtMs: number): void {
    this.nuc(nucId).readingsCame(observedAtMs);
    this.#ended.get(nucId)?.readingsCame(observedAtMs);
  }

  logChanged(nucId: string): void {
    this.nuc(nucId).logChanged();
    this.#ended.get(nucId)?.logChanged();
  }

  setupChanged(): void {
    this.forgetPositions();
    for (const nuc of [...this.#nucs.values(), ...this.#ended.values()]) nuc.setupChanged();
  }

  analysis(nucId: string, nowMs: number, fresh = false): NucAnalysis | undefined {
    const { choices, forecast } = this.#deps;
    return this.nuc(nucId).analysis(nowMs, choices(), forecast(this.#siteOf(nucId, nowMs), nowMs), fresh);
  }

  /** A nuc as it stood at the end of its introduction, retired ones as well; kept beside the present. */
  analysisAtEnd(nucId: string, endMs: number): NucAnalysis | undefined {
    let nuc = this.#ended.get(nucId);
    if (!nuc) this.#ended.set(nucId, (nuc = new NucStateCache(this.#deps.store, nucId)));
    const found = nuc.analysis(endMs, this.#deps.choices(), undefined, true);
    // An end does not move: its days are hardly ever read again.
    nuc.forgetDays();
    return found;
  }

  health(channel: Channel, place: ChannelHealth['place'], nowMs: number): ChannelHealth {
    return this.#channels.health(channel, place, nowMs);
  }

  /** One nuc, its newest readings included; nothing where it is no more. */
  nucInputs(nucId: string, nowMs: number): NucInput[] {
    return this.#nucInputs(nucId, this.#sensorsOf(nucId, nowMs), nowMs, true);
  }

  /** Nuc inputs at instants of the past, as far as they are known now; the last of them is the present. */
  pastNucInputs(nucId: string, nowMs: number): (atMs: number) => NucInput[] {
    const { choices, forecast } = this.#deps;
    const sensors = this.#sensorsOf(nucId, nowMs);
    const siteId = this.#siteOf(nucId, nowMs);
    const past = this.nuc(nucId).past(nowMs, choices(), (atMs) => forecast(siteId, atMs));
    return (atMs) => {
      const found = atMs === nowMs ? this.analysis(nucId, nowMs, true) : past(atMs);
      return found ? [nucInput(found, sensors, this.#batches.get(nucId) ?? null, atMs)] : [];
    };
  }

  /** Every nuc, device, channel and site. */
  allInputs(nowMs: number): RuleInput[] {
    const { nucs, sites } = this.positions(nowMs);
    this.#forgetOthers(nucs, nowMs);
    this.#compareBatches(nowMs);
    const all = this.#watchedChannels(nowMs);
    const byNuc = groupBy(all, ({ hive }) => hive?.id);
    const bySite = groupBy(all, ({ site }) => site.id);
    const healths = (channels: readonly WatchedChannel[] = []) => channels.map(({ health }) => health);
    return [
      ...nucs.flatMap(({ id }) => this.#nucInputs(id, healths(byNuc.get(id)), nowMs, false)),
      ...sensorInputs(all, nowMs),
      ...sites.map((site) => siteInput(site, healths(bySite.get(site.id)), nowMs)),
    ];
  }

  /** What was kept of nucs that were taken down since, and of ends with each full hour. */
  #forgetOthers(standing: readonly { readonly id: string }[], nowMs: number): void {
    if (this.#batchesAtMs !== standingHourMs(nowMs)) this.#ended.clear();
    const ids = new Set(standing.map(({ id }) => id));
    for (const id of this.#nucs.keys()) if (!ids.has(id)) this.#nucs.delete(id);
  }

  #siteOf(nucId: string, nowMs: number): string {
    return this.positions(nowMs).nucs.find(({ id }) => id === nucId)?.siteId ?? '';
  }

  #nucInputs(nucId: string, sensors: readonly ChannelHealth[], nowMs: number, fresh: boolean): NucInput[] {
    const found = this.analysis(nucId, nowMs, fresh);
    return found ? [nucInput(found, sensors, this.#batches.get(nucId) ?? null, nowMs)] : [];
  }

  #sensorsOf(nucId: string, nowMs: number): ChannelHealth[] {
    return [...this.positions(nowMs).ofChannel].flatMap(([id, { hive, assignment }]) => {
      const channel = hive?.id === nucId ? this.#deps.store.channels.get(id) : undefined;
      return channel ? [this.health(channel, assignment.position, nowMs)] : [];
    });
  }

  /** Channels that stand somewhere, each with its health; the store is asked once for all. */
  #watchedChannels(nowMs: number): readonly WatchedChannel[] {
    const { ofChannel } = this.positions(nowMs);
    return this.#deps.store.channels.list().flatMap((channel) => {
      const at = ofChannel.get(channel.id);
      return at ? [{ ...at, health: this.health(channel, at.assignment.position, nowMs) }] : [];
    });
  }

  /** Nucs of a batch are compared once an hour. */
  #compareBatches(nowMs: number): void {
    if (this.#batchesAtMs === standingHourMs(nowMs)) return;
    const { nucs } = this.positions(nowMs);
    this.#batches = standings(
      nucs.flatMap(({ id }) => batchNucOf(this.analysis(id, nowMs)) ?? []),
      nowMs,
    );
    this.#batchesAtMs = standingHourMs(nowMs);
  }
}
