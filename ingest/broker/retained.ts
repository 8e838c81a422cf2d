/** How much devices may leave retained with the embedded broker: a sensor needs few, and nothing ever takes them away. */

export interface RetainedLimits {
  readonly messagesPerOwner: number;
  readonly bytesPerOwner: number;
  readonly messages: number;
  readonly bytes: number;
}

/** A gateway that announces 100 sensors with a description and a state each keeps 200, some 60 kB. */
export const defaultRetainedLimits: RetainedLimits = {
  messagesPerOwner: 500,
  bytesPerOwner: 256 * 1024,
  messages: 5000,
  bytes: 4 * 1024 * 1024,
};

interface Kept {
  readonly owner: string;
  readonly bytes: number;
}

class Sum {
  messages = 0;
  bytes = 0;

  add({ bytes }: Kept, sign: 1 | -1): void {
    this.messages += sign;
    this.bytes += sign * bytes;
  }
}

export class RetainedRoom {
  readonly #limits: RetainedLimits;
  readonly #byTopic = new Map<string, Kept>();
  readonly #byOwner = new Map<string, Sum>();
  readonly #all = new Sum();

  constructor(limits: RetainedLimits) {
    this.#limits = limits;
  }

  /**
   * Counts a message that `owner` wants retained, in place of what the topic has. False where there is no room for it:
   * then nothing is to be kept for the topic. An empty one takes back what is there (MQTT 3.1.1 §3.3.1.3).
   */
  claim(owner: string, topic: string, payloadBytes: number): boolean {
    this.#release(topic);
    if (payloadBytes === 0) return true;
    const kept: Kept = { owner, bytes: topic.length + payloadBytes };
    const own = this.#byOwner.get(owner) ?? new Sum();
    const limits = this.#limits;
    if (
      own.messages >= limits.messagesPerOwner ||
      own.bytes + kept.bytes > limits.bytesPerOwner ||
      this.#all.messages >= limits.messages ||
      this.#all.bytes + kept.bytes > limits.bytes
    )
      return false;
    this.#byTopic.set(topic, kept);
    this.#byOwner.set(owner, own);
    own.add(kept, 1);
    this.#all.add(kept, 1);
    return true;
  }

  /** What an owner that is gone has left: it is no longer counted. */
  take(owner: string): readonly string[] {
    const topics = [...this.#byTopic].filter(([, kept]) => kept.owner === owner).map(([topic]) => topic);
    for (const topic of topics) this.#release(topic);
    return topics;
  }

  #release(topic: string): void {
    const kept = this.#byTopic.get(topic);
    if (!kept) return;
    this.#byTopic.delete(topic);
    this.#all.add(kept, -1);
    const own = this.#byOwner.get(kept.owner);
    own?.add(kept, -1);
    if (own?.messages === 0) this.#byOwner.delete(kept.owner);
  }
}
