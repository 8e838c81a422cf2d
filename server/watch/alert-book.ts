/**
 * The alerts as they stand, in memory and in the store. A change that can't be written (the disk is full) is kept and
 * written with the next tick, so that an alert about the disk is raised all the same.
 */
import {
  episodeOf,
  isOpen,
  type AlertState,
  type Effect,
  type EffectKind,
} from '../rules/engine/alert-state.ts';
import type { Alerts } from '../rules/engine/evaluate.ts';
import { nucsOf } from '../rules/engine/suppression.ts';
import type { AlertQuery, StoredAlert } from '../store/alerts.ts';
import { currentAlerts, endedAlerts, type EndedAlert } from './readable-alert.ts';
import { StoreUnavailable, type Store } from '../store/store.ts';

const endings: ReadonlySet<EffectKind> = new Set(['cleared', 'closed', 'no-longer-applies']);
/** Marks an episode that is over and kept for review, apart from the state that a rule is in now. */
const ended = 'ended';

export type { EndedAlert } from './readable-alert.ts';

export class AlertBook {
  readonly #store: Store;
  #alerts: Alerts;
  readonly #unwritten = new Map<string, StoredAlert>();

  constructor(store: Store) {
    this.#store = store;
    this.#alerts = new Map(this.#stored().map((state) => [state.key, state]));
  }

  /** Alerts that an import brought: those of a rule and a subject that nothing is known of here. */
  takeImported(): void {
    const fresh = this.#stored().filter(({ key }) => {
      const known = this.#alerts.get(key);
      return (known === undefined || known.at.phase === 'quiet') && !this.#unwritten.has(key);
    });
    this.#alerts = new Map([...this.#alerts, ...fresh.map((state) => [state.key, state] as const)]);
  }

  get alerts(): Alerts {
    return this.#alerts;
  }

  /** Takes over what a tick or a keeper's act led to. */
  take(alerts: Alerts, changed: readonly AlertState[], effects: readonly Effect[], nowMs: number): void {
    this.#alerts = alerts;
    for (const state of changed) this.#unwritten.set(state.key, storedState(state, nowMs));
    for (const effect of effects) {
      if (endings.has(effect.kind)) this.#unwritten.set(effect.episode.id, storedEnding(effect));
    }
    this.#write();
  }

  /** Of the whole farm, newest first; all since then where no `limit` is given. */
  ended(sinceMs: number, limit?: number): EndedAlert[] {
    return this.#ended({ sinceMs, ...(limit === undefined ? {} : { limit }) });
  }

  /** Of one nuc itself, newest first. */
  endedOf(nucId: string, sinceMs: number): EndedAlert[] {
    return this.#ended({ sinceMs, subject: { kind: 'nuc', id: nucId } });
  }

  /** Of one nuc and the sensors in and under it, newest first. */
  endedAbout(nucId: string, sinceMs: number): EndedAlert[] {
    return this.#ended({ sinceMs, nucId }).filter(({ subject }) => nucsOf(subject).includes(nucId));
  }

  #ended(query: AlertQuery): EndedAlert[] {
    const { alerts, unreadable } = this.#store;
    return endedAlerts(alerts.list({ phase: ended, ...query }), unreadable);
  }

  /** The current state with this episode or key. */
  find(id: string): AlertState | undefined {
    return this.#alerts.get(id) ?? [...this.#alerts.values()].find((alert) => episodeOf(alert)?.id === id);
  }

  #stored(): AlertState[] {
    const rows = this.#store.alerts.list().filter(({ phase }) => phase !== ended);
    return currentAlerts(rows, this.#store.unreadable);
  }

  #write(): void {
    if (this.#unwritten.size === 0) return;
    try {
      this.#store.alerts.saveAll([...this.#unwritten.values()].map((alert) => ({ alert })));
      this.#unwritten.clear();
    } catch (error) {
      if (!(error instanceof StoreUnavailable)) throw error;
    }
  }
}

function storedState(state: AlertState, nowMs: number): StoredAlert {
  const episode = episodeOf(state);
  return {
    id: state.key,
    ruleId: state.ruleId,
    subject: state.subject,
    phase: state.at.phase,
    urgency: episode?.urgency ?? 'next-visit',
    open: isOpen(state),
    changedAtMs: nowMs,
    state,
    message: episode?.message ?? null,
  };
}

function storedEnding({ ruleId, subject, episode, atMs }: Effect): StoredAlert {
  const state: EndedAlert = { ruleId, subject, episode, endedAtMs: atMs };
  return {
    id: `${ended} ${episode.id}`,
    ruleId,
    subject,
    phase: ended,
    urgency: episode.urgency,
    open: false,
    changedAtMs: atMs,
    state,
    message: episode.message,
  };
}
