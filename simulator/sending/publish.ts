/**
 * Publishes readings over real MQTT with QoS 1. Observed times are the simulated clock's; how fast they go
 * out is the pace: as fast as the broker acknowledges, or by the simulated clock, at any factor.
 */
import { setTimeout as sleep } from 'node:timers/promises';
import { connectAsync, type MqttClient } from 'mqtt';
import { asJson, asSenml, type WireMessage } from './encode.ts';
import type { SimMessage } from './messages.ts';

export type Pace =
  /** Next as soon as an acknowledgement makes room. */
  | { readonly kind: 'as-fast-as-taken' }
  /** A simulated hour takes an hour divided by `factor`; `startMs` of the simulated clock is now. */
  | { readonly kind: 'by-the-clock'; readonly factor: number; readonly startMs: number };

interface PublishOptions {
  readonly pace?: Pace;
  readonly format?: 'json' | 'senml';
  /** Most messages sent and not yet acknowledged; 200 by default. */
  readonly inFlight?: number;
  /** Ends the publishing between two messages. */
  readonly signal?: AbortSignal;
}

export interface Publisher {
  /** Publishes all and resolves with the number of acknowledged messages once the last one is. */
  publish(
    messages: Iterable<SimMessage> | AsyncIterable<SimMessage>,
    options?: PublishOptions,
  ): Promise<number>;
  close(): Promise<void>;
}

export interface BrokerAccess {
  /** Such as mqtt://127.0.0.1:1883. */
  readonly url: string;
  readonly username?: string;
  readonly password?: string;
}

/** Connects to the broker; fails with one sentence when nobody answers there. */
export async function openPublisher({ url, username, password }: BrokerAccess): Promise<Publisher> {
  let client: MqttClient;
  try {
    client = await connectAsync(
      url,
      {
        protocolVersion: 4,
        connectTimeout: 5000,
        ...(username === undefined ? {} : { username }),
        ...(password === undefined ? {} : { password }),
      },
      false,
    );
  } catch (cause) {
    throw new Error(`no MQTT broker answers at ${url}: start it, or name another with --broker`, { cause });
  }
  return {
    publish: (messages, options = {}) => publishAll(client, messages, options),
    close: () => client.endAsync(),
  };
}

async function publishAll(
  client: MqttClient,
  messages: Iterable<SimMessage> | AsyncIterable<SimMessage>,
  { pace = { kind: 'as-fast-as-taken' }, format = 'json', inFlight = 200, signal }: PublishOptions,
): Promise<number> {
  const beganMs = Date.now();
  const waiting = new Set<Promise<void>>();
  let acknowledged = 0;
  let failure: unknown;
  const send = async ({ topic, payload }: WireMessage): Promise<void> => {
    if (waiting.size >= inFlight) await Promise.race(waiting);
    const done = client
      .publishAsync(topic, payload, { qos: 1 })
      .then(() => void acknowledged++)
      .catch((error: unknown) => void (failure ??= error))
      .finally(() => waiting.delete(done));
    waiting.add(done);
  };
  let pack: SimMessage[] = [];
  const sendPack = async (): Promise<void> => {
    if (pack.length > 0) await send(asSenml(pack));
    pack = [];
  };
  for await (const message of messages) {
    // Before the wait: it is complete once another is due.
    if (!belongsTogether(pack[0], message)) await sendPack();
    if (pace.kind === 'by-the-clock')
      await until(beganMs + (message.atMs - pace.startMs) / pace.factor, signal);
    if (signal?.aborted || failure !== undefined) break;
    if (format === 'json') {
      await send(asJson(message));
      continue;
    }
    pack.push(message);
  }
  await sendPack();
  await Promise.all(waiting);
  if (failure !== undefined) throw failure instanceof Error ? failure : new Error('publishing failed');
  return acknowledged;
}

const belongsTogether = (first: SimMessage | undefined, next: SimMessage): boolean =>
  first?.sensor === next.sensor && first.atMs === next.atMs;

/** Waits until an instant of the wall clock; an abort ends the wait. */
async function until(atMs: number, signal: AbortSignal | undefined): Promise<void> {
  const waitMs = atMs - Date.now();
  if (waitMs <= 0) return;
  try {
    await sleep(waitMs, undefined, signal ? { signal } : {});
  } catch {
    // Aborted: the caller looks at the signal.
  }
}
