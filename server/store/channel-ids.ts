/** Ids of channels by what a reading says of itself; a channel appears when its first reading comes. */
import type { Quantity, StoredUnit } from '../units.ts';
import type { Context } from './context.ts';

export interface ChannelKey {
  readonly sensor: string;
  readonly quantity: Quantity;
  readonly probe: string;
  readonly unit: StoredUnit;
}

/** A farm has some hundreds; more than this is a flood of made-up topics. */
export const mostChannels = 10_000;

export class ChannelIds {
  private readonly known = new Map<string, number>();
  private changes = 0;
  private readonly find;
  private readonly insert;
  private readonly countAll;

  constructor({ db }: Context) {
    this.find = db
      .prepare<[string, string, string, string], number>(
        'SELECT id FROM channel WHERE sensor = ? AND quantity = ? AND probe = ? AND unit = ?',
      )
      .pluck();
    this.insert = db.prepare<[string, string, string, string, number]>(
      'INSERT INTO channel (sensor, quantity, probe, unit, created_at) VALUES (?, ?, ?, ?, ?)',
    );
    this.countAll = db.prepare<[], number>('SELECT count(*) FROM channel').pluck();
  }

  /** Inside a transaction; `keep` the ids once it is durable. Undefined where there are too many already. */
  of(
    { sensor, quantity, probe, unit }: ChannelKey,
    receivedAtMs: number,
    fresh: Map<string, number>,
  ): number | undefined {
    const key = `${sensor}\n${quantity}\n${probe}\n${unit}`;
    const known = this.known.get(key) ?? fresh.get(key);
    if (known !== undefined) return known;
    let id = this.find.get(sensor, quantity, probe, unit);
    if (id === undefined) {
      if ((this.countAll.get() ?? 0) >= mostChannels) return undefined;
      id = Number(this.insert.run(sensor, quantity, probe, unit, receivedAtMs).lastInsertRowid);
    }
    fresh.set(key, id);
    return id;
  }

  /** Goes up with every change to the table of channels, so that its readers need not read it each time. */
  get version(): number {
    return this.changes;
  }

  keep(fresh: ReadonlyMap<string, number>): void {
    if (fresh.size > 0) this.changed();
    for (const [key, id] of fresh) this.known.set(key, id);
  }

  /** After channels were removed. */
  forget(): void {
    this.known.clear();
    this.changed();
  }

  changed(): void {
    this.changes += 1;
  }
}
