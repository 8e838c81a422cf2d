/** What a home hub sees of the nucs over MQTT: each as it stands, and none that was taken down. */
import * as z from 'zod';
import { internalPrefix } from '../farm/settings.ts';
import {
  discoveryOf,
  retainedMessages,
  stateOf,
  withdrawalOf,
  type NucForHub,
  type Publication,
  type Publish,
} from '../notify/mqtt.ts';
import type { AlertState } from '../rules/engine/alert-state.ts';
import { StoreUnavailable, type Store } from '../store/store.ts';
import type { Display } from '../words/phrase.ts';

/** Where home hubs listen for discovery messages by default. */
const hubPrefix = 'homeassistant';

/** What a hub was told before the last stop: the broker still has it. */
const settingName = `${internalPrefix}shown-to-hub`;
const shownSchema = z.object({ base: z.string(), ids: z.array(z.string()) });

export interface HubStatesDeps {
  readonly store: Pick<Store, 'settings'>;
  readonly publish: Publish;
  /** Since when the broker has been connected, or away, ms: with another connection it may have forgotten all. */
  readonly brokerSinceMs: () => number;
}

export class HubStates {
  readonly #deps: HubStatesDeps;
  readonly #retained: ReturnType<typeof retainedMessages>;
  /** Ids of those that a hub has been told of. */
  #shown: ReadonlySet<string> = new Set();
  /** Below which topic; undefined while nothing is shown. */
  #base: string | undefined;
  #sinceMs: number | undefined;

  constructor(deps: HubStatesDeps) {
    this.#deps = deps;
    this.#retained = retainedMessages(deps.publish);
    const kept = shownSchema.safeParse(deps.store.settings.get(settingName)).data;
    if (kept) this.#note(kept.base, kept.ids);
  }

  /** Publishes what changed below the topic `base`. Rejects where some of it could not be published: the next call tries again. */
  async update(
    base: string,
    nucs: readonly NucForHub[],
    alerts: readonly AlertState[],
    display: Display,
  ): Promise<void> {
    if (this.#base !== base) await this.withdraw();
    this.#forgetAfterReconnection();
    const standing = nucs.map(({ id }) => id);
    const gone = [...this.#shown].filter((id) => !standing.includes(id));
    // Before it is told: a server that dies meanwhile knows what to take back.
    this.#keep(base, [...standing, ...gone]);
    await this.#retained.update([
      // Nobody takes this back when the server dies. It stays for whoever reads it; discovery names the last will's topic.
      presenceOf(base, 'online'),
      ...nucs.flatMap((nuc) => [...discoveryOf(base, hubPrefix, nuc), stateOf(base, nuc, alerts, display)]),
      ...gone.flatMap((id) => withdrawalOf(base, hubPrefix, id)),
    ]);
    this.#keep(base, standing);
  }

  /** Takes away all that is shown: as nobody updates it any more, it would stay as it was for ever. */
  async withdraw(): Promise<void> {
    const base = this.#base;
    if (base === undefined) return;
    this.#forgetAfterReconnection();
    const shown = [...this.#shown].flatMap((id) => withdrawalOf(base, hubPrefix, id));
    await this.#retained.update([...shown, presenceOf(base, '')]);
    this.#keep(undefined, []);
  }

  #keep(base: string | undefined, ids: readonly string[]): void {
    const isKept =
      base === this.#base && ids.length === this.#shown.size && ids.every((id) => this.#shown.has(id));
    this.#note(base, ids);
    if (isKept) return;
    const { settings } = this.#deps.store;
    const change = { by: 'server', secret: true };
    try {
      if (base === undefined) settings.remove(settingName, change);
      else settings.put(settingName, { base, ids }, change);
    } catch (error) {
      // A disk that is full must not keep the hub from the alert of it.
      if (!(error instanceof StoreUnavailable)) throw error;
    }
  }

  #note(base: string | undefined, ids: readonly string[]): void {
    this.#base = base;
    this.#shown = new Set(ids);
  }

  #forgetAfterReconnection(): void {
    const sinceMs = this.#deps.brokerSinceMs();
    if (sinceMs !== this.#sinceMs) this.#retained.forget();
    this.#sinceMs = sinceMs;
  }
}

const presenceOf = (base: string, payload: string): Publication => ({
  topic: `${base}/online`,
  payload,
  qos: 1,
  retain: true,
});
