/** Ids of channels by what a reading says of itself; a channel appears when its first reading comes. */
import { ByChannel, type ChannelKey } from './by-channel.ts';
import type { Context } from './context.ts';

/** Channels met in a transaction: known to everybody once it is durable. */
export interface FreshChannels {
  readonly ids: ByChannel<number>;
  readonly list: { readonly key: ChannelKey; readonly id: number }[];
}

export const noFreshChannels = (): FreshChannels => ({ ids: new ByChannel(), list: [] });

/** A farm has some hundreds; more than this is a flood of made-up topics. */
export const mostChannels = 10_000;

export class ChannelIds {
  private readonly known = new ByChannel<number>();
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
  of(channel: ChannelKey, receivedAtMs: number, fresh: FreshChannels): number | undefined {
    const known = this.known.get(channel) ?? fresh.ids.get(channel);
    if (known !== undefined) return known;
    const { sensor, quantity, probe, unit } = channel;
    let id = this.find.get(sensor, quantity, probe, unit);
    if (id === undefined) {
      if ((this.countAll.get() ?? 0) >= mostChannels) return undefined;
      id = Number(this.insert.run(sensor, quantity, probe, unit, receivedAtMs).lastInsertRowid);
    }
    const key = { sensor, quantity, probe, unit };
    fresh.ids.set(key, id);
    fresh.list.push({ key, id });
    return id;
  }

  /** Goes up with every change to the table of channels, so that its readers need not read it each time. */
  get version(): number {
    return this.changes;
  }

  keep({ list }: FreshChannels): void {
    if (list.length > 0) this.changed();
    for (const { key, id } of list) this.known.set(key, id);
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
