/**
 * Over MQTT: an event a message, a retained state a nuc, and the discovery messages by which a home hub
 * shows each nuc without further set-up. The topics lie beside those that sensors publish on, not among them.
 */
import { presence } from '../../ingest/decode/own-topics.ts';
import { episodeOf, isOpen, type AlertState } from '../rules/engine/alert-state.ts';
import { inWords, type Display } from '../words/phrase.ts';
import { urgencies, type Urgency } from '../rules/engine/types.ts';
import type { MqttChannel } from './recipient.ts';
import type { SenderOf } from './sender.ts';
import { jsonOf } from './webhook.ts';

export interface Publication {
  readonly topic: string;
  readonly payload: string;
  readonly qos: 0 | 1;
  readonly retain: boolean;
}
/** Resolves when the broker has it. */
export type Publish = (publication: Publication) => Promise<void>;

export function mqttSender(publish: Publish): SenderOf<MqttChannel> {
  return async (delivery, recipient, { base }, nowMs) => {
    const topic = `${base}/events`;
    await publish({
      topic,
      payload: JSON.stringify(jsonOf(delivery, recipient, nowMs)),
      qos: 1,
      retain: false,
    });
    return { ok: true, detail: `published on ${topic}` };
  };
}

export interface NucForHub {
  readonly id: string;
  readonly name: string;
  readonly siteName: string;
  readonly timeZone: string;
  /** In a few words, such as "caged, day 8". */
  readonly stage: string;
}

const stateTopic = (base: string, nucId: string): string => `${base}/nucs/${nucId}`;

/** What a nuc needs, as its retained state. */
export function stateOf(
  base: string,
  nuc: NucForHub,
  alerts: readonly AlertState[],
  readers: Display,
): Publication {
  const display = { ...readers, timeZone: nuc.timeZone };
  const open = alerts
    .filter((alert) => isOpen(alert) && alert.subject.kind === 'nuc' && alert.subject.id === nuc.id)
    .flatMap((alert) => episodeOf(alert) ?? [])
    .sort((a, b) => urgencies.indexOf(a.urgency) - urgencies.indexOf(b.urgency));
  const [first] = open;
  const needs: Urgency | 'nothing' = first?.urgency ?? 'nothing';
  const state = {
    name: nuc.name,
    site: nuc.siteName,
    stage: nuc.stage,
    needs,
    todo: first ? inWords(first.message.todo, display) : '',
    alerts: open.map(({ id, urgency, message }) => ({ id, urgency, todo: inWords(message.todo, display) })),
  };
  return { topic: stateTopic(base, nuc.id), payload: JSON.stringify(state), qos: 1, retain: true };
}

/** Two entities a nuc: what it needs, and whether something is open at all. */
export function discoveryOf(base: string, prefix: string, nuc: NucForHub): Publication[] {
  const shared = {
    state_topic: stateTopic(base, nuc.id),
    json_attributes_topic: stateTopic(base, nuc.id),
    availability_topic: presence.topic,
    payload_available: presence.here,
    payload_not_available: presence.gone,
    device: { identifiers: [`welcomb-${nuc.id}`], name: nuc.name, suggested_area: nuc.siteName },
    // By this ingest knows its own announcements when a shared broker sends them back.
    origin: { name: 'Welcomb' },
  };
  const entities = {
    sensor: { name: 'Needs', unique_id: `welcomb-${nuc.id}-needs`, value_template: '{{ value_json.needs }}' },
    binary_sensor: {
      name: 'Needs you',
      unique_id: `welcomb-${nuc.id}-open`,
      device_class: 'problem',
      value_template: "{{ 'OFF' if value_json.needs == 'nothing' else 'ON' }}",
    },
  };
  return Object.entries(entities).map(([component, entity]) => ({
    topic: `${prefix}/${component}/${entity.unique_id}/config`,
    payload: JSON.stringify({ ...entity, ...shared }),
    qos: 1 as const,
    retain: true,
  }));
}

/** Takes a nuc away from the hub: an empty message in the place of each that was retained for it. */
export function withdrawalOf(base: string, prefix: string, id: string): Publication[] {
  const nuc = { id, name: '', siteName: '', timeZone: '', stage: '' };
  const topics = [...discoveryOf(base, prefix, nuc).map(({ topic }) => topic), stateTopic(base, id)];
  return topics.map((topic) => ({ topic, payload: '', qos: 1, retain: true }));
}

/**
 * Keeps retained messages up to date: sends what changed since the last update, and all after `forget`. One that fails is tried
 * again with the next update and holds up no other; the update rejects with the first failure.
 */
export function retainedMessages(publish: Publish) {
  const sent = new Map<string, string>();
  return {
    async update(publications: readonly Publication[]): Promise<void> {
      const failures: unknown[] = [];
      for (const publication of publications) {
        if (sent.get(publication.topic) === publication.payload) continue;
        try {
          await publish(publication);
          sent.set(publication.topic, publication.payload);
        } catch (error) {
          failures.push(error);
        }
      }
      if (failures.length > 0) throw failures[0];
    },
    forget(): void {
      sent.clear();
    },
  };
}
