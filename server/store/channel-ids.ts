/** Ids of channels by what a reading says of itself; a channel appears when its first reading comes. */
import { ByChannel, type ChannelKey } from './by-channel.ts';
import type { Context } from './context.ts';

/** Channels met in a transaction: known to everybody once it is durable. */
export interface FreshChannels {
  readonly ids: ByChannel<number>;
  readonly list: { readonly key: ChannelKey; readonly id: number }[];
  /** Channels that stand nowhere, counted when first asked for and followed within the transaction. */
  unassigned: number | undefined;
  readonly unassignedOf: Map<string, number>;
}

export const noFreshChannels = (): FreshChannels => ({
  ids: new ByChannel(),
  list: [],
  unassigned: undefined,
  unassignedOf: new Map(),
});

/** In all, whoever made them; a farm has some hundreds. */
export const mostChannels = 10_000;
/** That one sensor may make before they are assigned: a gateway with a hundred probes is a large one. */
export const mostUnassignedOfSensor = 100;
/**
 * That all sensors together may make before they are assigned, but for those that bear a device's name: 500 nucs with
 * six channels each. Other names are free, and anybody who may publish can make them up.
 */
export const mostUnassigned = 3000;

const onSensorsPage = 'assign them, or forget them on the Sensors page';
const tooMany = 'there are too many channels already: forget what is not used on the Sensors page';
const tooManyOfSensor = `this sensor has ${String(mostUnassignedOfSensor)} channels already that are not assigned: ${onSensorsPage}`;
const tooManyUnassigned = `there are ${String(mostUnassigned)} channels already that are not assigned: ${onSensorsPage}`;

/** The highest number that a channel ever had, as a mark: a number is not given again, whatever was remembered by it. */
const highestIdMark = 'highest-channel-id';

export class ChannelIds {
  readonly #known = new ByChannel<number>();
  #changes = 0;
  readonly #find;
  readonly #insert;
  readonly #countAll;
  readonly #countOfSensor;
  readonly #countUnassigned;
  readonly #isDevice;
  readonly #noteHighest;

  constructor({ db }: Context) {
    const count = (sql: string) => db.prepare<[], number>(sql).pluck();
    const ofSensor = (sql: string) => db.prepare<[string], number>(sql).pluck();
    this.#find = db
      .prepare<[string, string, string, string], number>(
        'SELECT id FROM channel WHERE sensor = ? AND quantity = ? AND probe = ? AND unit = ?',
      )
      .pluck();
    const highest = `max(coalesce((SELECT max(id) FROM channel), 0),
      coalesce((SELECT at_ms FROM mark WHERE name = '${highestIdMark}'), 0))`;
    this.#insert = db.prepare<[string, string, string, string, number]>(
      `INSERT INTO channel (id, sensor, quantity, probe, unit, created_at) VALUES (1 + ${highest}, ?, ?, ?, ?, ?)`,
    );
    this.#noteHighest = db.prepare(
      `INSERT OR REPLACE INTO mark (name, at_ms) SELECT '${highestIdMark}', ${highest}`,
    );
    this.#countAll = count('SELECT count(*) FROM channel');
    const notAssigned = 'NOT EXISTS (SELECT 1 FROM assignment WHERE channel_id = channel.id)';
    this.#countOfSensor = ofSensor(`SELECT count(*) FROM channel WHERE sensor = ? AND ${notAssigned}`);
    this.#countUnassigned = count(
      `SELECT count(*) FROM channel WHERE ${notAssigned} AND sensor NOT IN (SELECT name FROM device)`,
    );
    this.#isDevice = ofSensor('SELECT 1 FROM device WHERE name = ?');
  }

  /**
   * Inside a transaction; `keep` the ids once it is durable. Where there is no channel and none may be made: why.
   * @param bounded a sensor asks: what it makes without anybody having assigned it is bounded
   */
  of(channel: ChannelKey, receivedAtMs: number, fresh: FreshChannels, bounded: boolean): number | string {
    const known = this.#known.get(channel) ?? fresh.ids.get(channel);
    if (known !== undefined) return known;
    const { sensor, quantity, probe, unit } = channel;
    let id = this.#find.get(sensor, quantity, probe, unit);
    if (id === undefined) {
      const why = this.#whyNone(sensor, fresh, bounded);
      if (why !== undefined) return why;
      id = Number(this.#insert.run(sensor, quantity, probe, unit, receivedAtMs).lastInsertRowid);
    }
    const key = { sensor, quantity, probe, unit };
    fresh.ids.set(key, id);
    fresh.list.push({ key, id });
    return id;
  }

  /** Why no further channel may be made; one more is counted where it may. */
  #whyNone(sensor: string, fresh: FreshChannels, bounded: boolean): string | undefined {
    if ((this.#countAll.get() ?? 0) >= mostChannels) return tooMany;
    if (!bounded) return undefined;
    const ofSensor = fresh.unassignedOf.get(sensor) ?? this.#countOfSensor.get(sensor) ?? 0;
    fresh.unassignedOf.set(sensor, ofSensor);
    if (ofSensor >= mostUnassignedOfSensor) return tooManyOfSensor;
    if (this.#isDevice.get(sensor) === undefined) {
      fresh.unassigned ??= this.#countUnassigned.get() ?? 0;
      if (fresh.unassigned >= mostUnassigned) return tooManyUnassigned;
      fresh.unassigned += 1;
    }
    fresh.unassignedOf.set(sensor, ofSensor + 1);
    return undefined;
  }

  /** Goes up with every change to the table of channels, so that its readers need not read it each time. */
  get version(): number {
    return this.#changes;
  }

  keep({ list }: FreshChannels): void {
    if (list.length > 0) this.changed();
    for (const { key, id } of list) this.#known.set(key, id);
  }

  /** Before channels are removed, in the same transaction. */
  beforeRemoval(): void {
    this.#noteHighest.run();
  }

  /** After channels were removed. */
  forget(): void {
    this.#known.clear();
    this.changed();
  }

  changed(): void {
    this.#changes += 1;
  }
}
