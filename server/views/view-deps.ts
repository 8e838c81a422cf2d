/** What the views are answered from. */
import type { EventsHub } from './events-hub.ts';
import type { Sent } from '../notify/sender.ts';
import type { Store } from '../store/store.ts';
import type { Watch } from '../watch/watch.ts';

export interface ViewDeps {
  readonly store: Store;
  readonly events: EventsHub;
  readonly watch: Watch;
  readonly timeZone: () => string;
  /** There is work for the watch. */
  readonly wake: () => void;
  readonly tryNotificationChannel: (id: string, nowMs: number) => Promise<Sent | undefined>;
}
