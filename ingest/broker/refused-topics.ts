/**
 * Topics on which the broker does not let us publish, until the restart. A broker of MQTT 5 says so in its answer; one
 * of 3.1.1 can only close the connection, and some of MQTT 5 do both. To publish there again on each connection would
 * end each of them.
 */

/** Reasons of MQTT 5 that no later attempt changes: not authorized, topic name invalid. */
const finalReasons: ReadonlySet<number> = new Set([0x87, 0x90]);
/** So soon after a publish the connection was closed because of it. */
const becauseOfItMs = 5000;

export interface Unanswered {
  readonly topic: string;
  /** Since it was sent. */
  readonly ageMs: number;
}

export class RefusedTopics {
  readonly #refused = new Set<string>();
  #suspected: string | undefined;

  has(topic: string): boolean {
    return this.#refused.has(topic);
  }

  /** True where the topic is refused from now on. */
  onRefusal(topic: string, reason: number): boolean {
    if (!finalReasons.has(reason)) return false;
    return this.#refuse(topic);
  }

  onAccepted(topic: string): void {
    if (this.#suspected === topic) this.#suspected = undefined;
  }

  /**
   * The connection was closed while `oldest` was not answered. Once may be chance; the same topic twice in a row is
   * refused from now on. Returns it then.
   */
  onClosed(oldest: Unanswered | undefined): string | undefined {
    const before = this.#suspected;
    this.#suspected = oldest && oldest.ageMs <= becauseOfItMs ? oldest.topic : undefined;
    if (this.#suspected === undefined || this.#suspected !== before) return undefined;
    const topic = this.#suspected;
    this.#suspected = undefined;
    return this.#refuse(topic) ? topic : undefined;
  }

  #refuse(topic: string): boolean {
    if (this.#refused.has(topic)) return false;
    this.#refused.add(topic);
    return true;
  }
}
