/**
 * The simulated nucs of a season: what their devices send, and what their keeper sets up and writes down by HTTP at the
 * time at which it happens.
 */
import type { ResponseOf } from '../../server/contract/index.ts';
import { logEntrySchema, type LogEntry } from '../../server/introduction/log/facts.ts';
import { demoFacts, introductionIdOf } from '../../simulator/demo/demo-log.ts';
import type { PlannedNuc } from '../../simulator/demo/demo-plan.ts';
import { siteMessages } from '../../simulator/demo/demo-run.ts';
import { asJson } from '../../simulator/sending/encode.ts';
import { messagesByArrival, wireNames, type SimulatedNuc } from '../../simulator/index.ts';
import type { SimMessage } from '../../simulator/sending/messages.ts';
import { base } from '../scenarios/expectations.ts';
import { silencesOf, type True } from '../scenarios/judged.ts';
import type { Sent } from './acknowledged.ts';
import type { SeasonKeeper } from './season-keeper.ts';
import { fieldWeather, live, planSeason, type PlannedIntroduction } from './season-plan.ts';

export interface SeasonRun {
  readonly planned: PlannedIntroduction;
  readonly nucId: string;
  /** What its sensors are called: one under the nuc, and one of its site where it has its own. */
  readonly sensors: readonly string[];
  readonly truth: True;
  readonly log: LogEntry[];
  readonly messages: SimMessage[];
  sent: number;
  assigned: number;
}

const hourMs = 3_600_000;
const minuteMs = 60_000;
const fieldId = 'field';
/** Between the first nucs of two seasons of neighbouring seeds. */
const seedsApart = 100;
const positions: Readonly<Record<string, string>> = {
  'weight/': 'scale',
  'temperature/brood': 'brood',
  'temperature/cage': 'cage',
  'battery/': 'battery',
};
const sitePositions: Readonly<Record<string, string>> = {
  temperature: 'outside',
  rain: 'rain',
  humidity: 'humidity',
};

const onPaper = ({ key }: PlannedIntroduction): PlannedNuc => ({
  key,
  name: key,
  siteKey: fieldId,
  parentKey: 'stand',
  day: 0,
  queen: { key: `queen-${key}`, mark: key, source: 'trial' },
  shows: '',
  model: {},
});

export class SeasonNucs {
  readonly #keeper: SeasonKeeper;
  readonly #waiting: PlannedIntroduction[];
  readonly #everyMinutes: number;
  readonly #seed: number;
  readonly #weather: ReturnType<typeof fieldWeather>;
  readonly #sky: { readonly messages: SimMessage[]; sent: number; assigned: number };
  readonly #open: SeasonRun[] = [];
  readonly done: SeasonRun[] = [];

  constructor(
    keeper: SeasonKeeper,
    season: {
      readonly startMs: number;
      readonly days: number;
      readonly slots: number;
      readonly everyMinutes: number;
      readonly seed: number;
    },
  ) {
    const { startMs, days, slots, everyMinutes, seed } = season;
    this.#keeper = keeper;
    this.#everyMinutes = everyMinutes;
    this.#seed = seed;
    this.#waiting = planSeason(startMs, days, slots).sort((a, b) => a.splitMs - b.splitMs);
    this.#weather = fieldWeather(seed, startMs, days);
    const site = { key: fieldId, name: 'Field', ...base.place };
    const messages = siteMessages(site, 0, seed, this.#weather, everyMinutes);
    this.#sky = { messages: messages.sort((a, b) => a.atMs - b.atMs), sent: 0, assigned: 0 };
  }

  async setUp(nowMs: number): Promise<void> {
    await this.#keeper.do(nowMs, 'POST', '/sites', { id: fieldId, name: 'Field', ...base.place });
  }

  /** What the devices send up to `nowMs` and have not sent before. */
  readingsUpTo(nowMs: number): Sent[] {
    return [this.#sky, ...this.#open].flatMap((source) => {
      const from = source.sent;
      while ((source.messages[source.sent]?.atMs ?? Infinity) <= nowMs) source.sent += 1;
      return source.messages.slice(from, source.sent).map((message) => ({
        ...asJson(message),
        key: `${message.sensor}/${message.quantity}/${message.probe ?? ''}`,
        storedMs: message.stampedAtMs,
        value: message.value,
      }));
    });
  }

  /** What the keeper does at `nowMs`: set-ups that are due, sensors that have shown, visits written down, endings. */
  async visit(nowMs: number): Promise<void> {
    while ((this.#waiting[0]?.splitMs ?? Infinity) - 2 * hourMs <= nowMs)
      this.#open.push(await this.#begin(this.#waiting.shift() as PlannedIntroduction, nowMs));
    if (
      this.#sky.assigned < 3 ||
      this.#open.some(({ assigned, sensors }) => assigned < 1 + 3 * sensors.length)
    )
      await this.#assign(nowMs);
    const written = this.#open.flatMap(({ log }) => {
      const later = log.findIndex(({ writtenAtMs }) => writtenAtMs > nowMs);
      return log.splice(0, later === -1 ? log.length : later);
    });
    if (written.length > 0) await this.#keeper.log(nowMs, written);
    for (const run of this.#open.filter(({ planned }) => planned.endMs <= nowMs)) await this.#end(run, nowMs);
  }

  async #begin(planned: PlannedIntroduction, nowMs: number): Promise<SeasonRun> {
    const nth = this.done.length + this.#open.length;
    const nuc = live(planned, seedsApart * this.#seed + nth, this.#everyMinutes, this.#weather);
    const { key, slot, splitMs, endMs } = planned;
    const ownSky = planned.kind === 'cold';
    const siteId = ownSky ? `hollow-${key}` : fieldId;
    if (ownSky) await this.#keeper.do(nowMs, 'POST', '/sites', { id: siteId, name: siteId, ...base.place });
    await this.#keeper.do(nowMs, 'POST', '/hives', {
      id: key,
      name: key,
      siteId,
      role: 'nuc',
      emptyKg: nuc.parameters.tareG / 1000,
    });
    await this.#keeper.do(nowMs, 'POST', `/nucs/${key}/introductions`, {
      id: introductionIdOf(onPaper(planned)),
      startingPoint: 'planned-split',
      method: 'candy-cage',
      plannedSplit: new Date(splitMs).toISOString(),
    });
    const box = `box-${String(slot)}`;
    const all = wireNames(box, siteId);
    const { outside: _outside, rain: _rain, humidity: _humidity, ...own } = all;
    const { events, chill, close, sure } = nuc.truth;
    return {
      planned,
      nucId: key,
      sensors: ownSky ? [box, siteId] : [box],
      truth: {
        splitMs,
        truth: { events, chill, close, sure },
        silences: silencesOf(nuc),
      },
      log: [
        ...demoFacts(onPaper(planned), nuc, endMs).map((fact) => logEntrySchema.parse(fact)),
        outcomeOf(planned, nuc),
      ].sort((a, b) => a.writtenAtMs - b.writtenAtMs),
      messages: messagesByArrival(nuc, ownSky ? all : own).filter(({ atMs }) => atMs < endMs),
      sent: 0,
      assigned: 0,
    };
  }

  /** Channels appear by themselves; the keeper says where they stand once they show. */
  async #assign(nowMs: number): Promise<void> {
    const { items } = await this.#keeper.get<ResponseOf<'listChannels'>>('/channels');
    for (const { id, sensor, quantity, probe, assignment } of items) {
      if (assignment !== null && assignment.to === undefined) continue;
      const ofSky = sensor === `sky-${fieldId}`;
      const run = this.#open.find(({ sensors, sent }) => sent > 0 && sensors.includes(sensor));
      if (!ofSky && !run) continue;
      const [box] = run?.sensors ?? [];
      const place = sensor === box ? positions[`${quantity}/${probe}`] : sitePositions[quantity];
      if (place === undefined) continue;
      const owner = ofSky
        ? { siteId: fieldId }
        : sensor === box
          ? { hiveId: run?.nucId }
          : { siteId: sensor };
      const from = new Date(run?.planned.splitMs ?? nowMs - hourMs).toISOString();
      await this.#keeper.do(nowMs, 'POST', '/assignments', { channelId: id, ...owner, place, from });
      (run ?? this.#sky).assigned += 1;
    }
  }

  /** Its sensors go to the next nuc. */
  async #end(run: SeasonRun, nowMs: number): Promise<void> {
    const { items } = await this.#keeper.get<ResponseOf<'listChannels'>>('/channels');
    const to = new Date(run.planned.endMs).toISOString();
    for (const { sensor, assignment } of items)
      if (run.sensors.includes(sensor) && assignment)
        await this.#keeper.do(nowMs, 'PATCH', `/assignments/${String(assignment.id)}`, { to });
    await this.#keeper.do(nowMs, 'PATCH', `/hives/${run.nucId}`, { retired: true });
    this.#open.splice(this.#open.indexOf(run), 1);
    run.messages.length = 0;
    this.done.push(run);
  }
}

const outcomes: Readonly<Record<string, string>> = { calm: 'accepted', absconded: 'absconded' };

function outcomeOf(planned: PlannedIntroduction, { seed }: SimulatedNuc): LogEntry {
  const happenedAtMs = planned.endMs - 10 * minuteMs;
  return logEntrySchema.parse({
    id: `outcome-${planned.key}-${String(seed)}`,
    introductionId: introductionIdOf(onPaper(planned)),
    happenedAtMs,
    writtenAtMs: planned.endMs,
    by: 'demo keeper',
    type: 'fact',
    fact: { kind: 'outcome', outcome: outcomes[planned.kind] ?? 'given-up' },
  });
}
