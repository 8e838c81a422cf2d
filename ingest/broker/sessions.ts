/**
 * What the embedded broker remembers for clients that asked it to (MQTT 3.1.1 §3.1.2.4): their subscriptions, and what
 * came for them while they were away. The library's memory holds it for ever and without end; here it is bounded.
 */
import { Readable } from 'node:stream';
import type { AedesPublishPacket as Packet, Client, Subscription } from 'aedes';
import MemoryPersistence from 'aedes-persistence/asyncPersistence.js';
import type { Connection } from './connection.ts';

export interface SessionLimits {
  /** Messages that wait for one session, and their bytes; beyond either the oldest goes. */
  readonly messages: number;
  readonly bytes: number;
  /** Sessions without a connection, in all and of one device; beyond either the one longest away goes. */
  readonly away: number;
  readonly awayPerOwner: number;
  readonly keepAwayMs: number;
}

/** 4 sessions of a device for a program that listens under several names; a day for a hub that is away. */
export const defaultSessionLimits: SessionLimits = {
  messages: 1000,
  bytes: 512 * 1024,
  away: 50,
  awayPerOwner: 4,
  keepAwayMs: 24 * 3600_000,
};

interface Session {
  readonly id: string;
  readonly queue: Packet[];
  bytes: number;
  /** Undefined while it is connected. */
  awaySinceMs: number | undefined;
}

/** Topic, payload and what an object of the engine takes besides. */
const bytesOf = ({ topic, payload }: Packet): number => 200 + topic.length + payload.length;

/** A copy: a few bytes must not keep the whole piece of the stream that they came in. */
function ownBytes(payload: Buffer | string): Buffer {
  const bytes = Buffer.from(payload);
  const copy = Buffer.allocUnsafeSlow(bytes.length);
  bytes.copy(copy);
  return copy;
}

const nobody = Promise.resolve([]);

const ownerSeparator = '/';
/** Client ids are kept apart by device: nobody takes over another one's session. */
export const clientIdOf = (owner: string | undefined, id: string): string =>
  encodeURIComponent(owner ?? '') + ownerSeparator + id;
const ownerOf = (clientId: string): string =>
  clientId.slice(0, Math.max(0, clientId.indexOf(ownerSeparator)));

export class Sessions extends MemoryPersistence {
  readonly #limits: SessionLimits;
  readonly #clock: () => number;
  readonly #sessions = new Map<string, Session>();

  constructor(limits: SessionLimits, clock: () => number) {
    super();
    this.#limits = limits;
    this.#clock = clock;
  }

  /** A client that wants to be remembered has connected. */
  came(id: string): void {
    const session = this.#sessions.get(id) ?? { id, queue: [], bytes: 0, awaySinceMs: undefined };
    session.awaySinceMs = undefined;
    this.#sessions.set(id, session);
  }

  async left(id: string): Promise<void> {
    const session = this.#sessions.get(id);
    if (!session) return;
    session.awaySinceMs = this.#clock();
    const away = this.#away();
    const ofOwner = away.filter(({ id: other }) => ownerOf(other) === ownerOf(id));
    const { away: inAll, awayPerOwner } = this.#limits;
    for (const [list, most] of [
      [ofOwner, awayPerOwner],
      [away, inAll],
    ] as const)
      for (const old of list.slice(0, Math.max(0, list.length - most))) await this.#forget(old.id);
  }

  /** Forgets who has been away too long. */
  async expire(): Promise<void> {
    const since = this.#clock() - this.#limits.keepAwayMs;
    for (const { id, awaySinceMs } of this.#away())
      if ((awaySinceMs ?? since) < since) await this.#forget(id);
  }

  /** A device was shut out: whoever gets its name next is not to read what came for it. */
  async forgetOwner(owner: string): Promise<void> {
    const prefix = clientIdOf(owner, '');
    for (const id of [...this.#sessions.keys()]) if (id.startsWith(prefix)) await this.#forget(id);
  }

  /** Messages and bytes that wait. */
  waiting(): { readonly sessions: number; readonly messages: number; readonly bytes: number } {
    let [messages, bytes] = [0, 0];
    for (const session of this.#sessions.values()) {
      messages += session.queue.length;
      bytes += session.bytes;
    }
    return { sessions: this.#sessions.size, messages, bytes };
  }

  /** The broker hands over all filters of a request, also those that it refused. */
  override async addSubscriptions(client: Client, subscriptions: Subscription[]): Promise<void> {
    const { filters } = client.conn as Connection;
    await super.addSubscriptions(
      client,
      subscriptions.filter(({ topic }) => filters.has(topic)),
    );
  }

  /** A session begins anew. */
  override async cleanSubscriptions(client: Client): Promise<void> {
    await this.#forget(client.id);
  }

  /** Asked for each message: on most farms nobody wants to be remembered. */
  override subscriptionsByTopic(topic: string): ReturnType<MemoryPersistence['subscriptionsByTopic']> {
    return this.#sessions.size > 0 ? super.subscriptionsByTopic(topic) : nobody;
  }

  override storeRetained(packet: Packet): Promise<void> {
    return super.storeRetained({ ...packet, payload: ownBytes(packet.payload) });
  }

  override outgoingEnqueue(subscriber: { clientId: string }, packet: Packet): Promise<void> {
    return this.outgoingEnqueueCombi([subscriber], packet);
  }

  override async outgoingEnqueueCombi(subscribers: { clientId: string }[], packet: Packet): Promise<void> {
    const payload = subscribers.length > 0 ? ownBytes(packet.payload) : packet.payload;
    for (const { clientId } of subscribers) {
      const session = this.#sessions.get(clientId);
      if (!session) continue;
      session.queue.push({ ...packet, payload });
      session.bytes += bytesOf(packet);
      while (session.queue.length > this.#limits.messages || session.bytes > this.#limits.bytes)
        this.#remove(session, 0);
    }
  }

  /** Of a message that had to go there is nothing to note: it is sent all the same. */
  override async outgoingUpdate(client: Client, packet: Packet): Promise<void> {
    const queue = this.#sessions.get(client.id)?.queue ?? [];
    for (const [at, waiting] of queue.entries()) {
      if (waiting.brokerId === packet.brokerId) {
        if (waiting.brokerCounter !== packet.brokerCounter) continue;
        if (packet.messageId !== undefined) waiting.messageId = packet.messageId;
        return;
      }
      if (waiting.messageId === packet.messageId) {
        queue[at] = packet;
        return;
      }
    }
  }

  override async outgoingClearMessageId(client: Client, packet: Packet): Promise<Packet> {
    const session = this.#sessions.get(client.id);
    const at = session?.queue.findIndex(({ messageId }) => messageId === packet.messageId) ?? -1;
    return (session && at >= 0 ? this.#remove(session, at) : undefined) as Packet;
  }

  override outgoingStream(client: Client): Readable {
    return Readable.from([...(this.#sessions.get(client.id)?.queue ?? [])]);
  }

  /**
   * Last wills that other brokers left behind: there is no other. By a clock that leapt ahead the engine takes itself for
   * one, and would publish the wills of all who are connected.
   */
  override streamWill(): Readable {
    return Readable.from([]);
  }

  /** Only that it came is looked up again, never what it said. */
  override async incomingStorePacket(client: Client, packet: Packet): Promise<void> {
    await super.incomingStorePacket(client, { ...packet, payload: Buffer.alloc(0) });
  }

  /** Longest away first. */
  #away(): Session[] {
    return [...this.#sessions.values()]
      .filter(({ awaySinceMs }) => awaySinceMs !== undefined)
      .sort((a, b) => (a.awaySinceMs ?? 0) - (b.awaySinceMs ?? 0));
  }

  #remove(session: Session, at: number): Packet | undefined {
    const [packet] = session.queue.splice(at, 1);
    if (packet) session.bytes -= bytesOf(packet);
    return packet;
  }

  async #forget(id: string): Promise<void> {
    this.#sessions.delete(id);
    const client = { id } as Client;
    await super.cleanSubscriptions(client);
    await super.cleanIncoming(client);
  }
}
