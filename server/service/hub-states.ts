/** What a home hub sees of the nucs over MQTT: each as it stands, and none that was taken down. */
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
import type { Display } from '../words/phrase.ts';

/** Where home hubs listen for discovery messages by default. */
const hubPrefix = 'homeassistant';

export interface HubStatesDeps {
  readonly publish: Publish;
  /** Since when the broker has been connected, or away, ms: with another connection it may have forgotten all. */
  readonly brokerSinceMs: () => number;
}

export class HubStates {
  readonly #deps: HubStatesDeps;
  readonly #retained: ReturnType<typeof retainedMessages>;
  /** Those that a hub has been told of, by id. */
  readonly #shown = new Map<string, NucForHub>();
  /** Below which topic; undefined while nothing is shown. */
  #base: string | undefined;
  #sinceMs: number | undefined;

  constructor(deps: HubStatesDeps) {
    this.#deps = deps;
    this.#retained = retainedMessages(deps.publish);
  }

  /** Publishes what changed below the topic `base`. Rejects where some of it could not be published: the next call tries again. */
  async update(
    base: string,
    nucs: readonly NucForHub[],
    alerts: readonly AlertState[],
    display: Display,
  ): Promise<void> {
    if (this.#base !== base) await this.withdraw();
    this.#base = base;
    this.#forgetAfterReconnection();
    const standing = new Set(nucs.map(({ id }) => id));
    const gone = [...this.#shown.values()].filter(({ id }) => !standing.has(id));
    for (const nuc of nucs) this.#shown.set(nuc.id, nuc);
    await this.#retained.update([
      // Nobody takes this back when the server dies. It stays for whoever reads it; discovery names the last will's topic.
      presenceOf(base, 'online'),
      ...nucs.flatMap((nuc) => [...discoveryOf(base, hubPrefix, nuc), stateOf(base, nuc, alerts, display)]),
      ...gone.flatMap((nuc) => withdrawalOf(base, hubPrefix, nuc)),
    ]);
    for (const { id } of gone) this.#shown.delete(id);
  }

  /** Takes away all that was shown since the start: as nobody updates it any more, it would stay as it was for ever. */
  async withdraw(): Promise<void> {
    const base = this.#base;
    if (base === undefined) return;
    this.#forgetAfterReconnection();
    const shown = [...this.#shown.values()].flatMap((nuc) => withdrawalOf(base, hubPrefix, nuc));
    await this.#retained.update([...shown, presenceOf(base, '')]);
    this.#shown.clear();
    this.#base = undefined;
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
