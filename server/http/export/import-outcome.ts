/** What a line of an import came to, and how its channel is found. */
import { StoreConflict } from '../../store/errors.ts';
import type { Channel } from '../../store/channels/channels.ts';
import type { Store } from '../../store/store.ts';
import type { Line } from './lines.ts';

export type Outcome =
  | 'added'
  | 'already-there'
  | 'left-out'
  | { readonly added: number; readonly alreadyThere: number; readonly leftOut?: readonly string[] };
export type KeyOf = Extract<Line, { kind: 'channel' }>['channel'];
export type Handler<K extends Line['kind']> = (line: Extract<Line, { kind: K }>) => Outcome;
export type Handlers = { readonly [K in Line['kind']]: Handler<K> };

export function channelOf(store: Store, key: KeyOf): Channel {
  const channel = store.channels.find(key);
  if (!channel) {
    throw new StoreConflict(
      `There is no channel ${key.sensor} ${key.quantity} ${key.probe} yet: channels come with their first reading.`,
    );
  }
  return channel;
}

export const unlessThere = (there: unknown, add: () => unknown): Outcome => {
  if (there !== undefined && there !== null && there !== false) return 'already-there';
  add();
  return 'added';
};
