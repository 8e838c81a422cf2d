/** A reading as it goes over the wire: the project's own topics with JSON, or a SenML pack (RFC 8428) per device. */
import type { SimMessage } from './messages.ts';

export interface WireMessage {
  readonly topic: string;
  readonly payload: string;
}

/** `welcomb/<sensor>/<quantity>` or `…/<probe>`, with value, ISO time and unit. */
export function asJson(message: SimMessage): WireMessage {
  const { sensor, quantity, probe, value, stampedAtMs, unit } = message;
  return {
    topic: `welcomb/${sensor}/${quantity}${probe ? `/${probe}` : ''}`,
    payload: JSON.stringify({ value, time: new Date(stampedAtMs).toISOString(), unit }),
  };
}

/** Readings of one device as one pack on `welcomb/<sensor>`; names are `quantity` or `quantity/probe`. */
export function asSenml(messages: readonly SimMessage[]): WireMessage {
  const [first] = messages;
  if (!first) throw new RangeError('a SenML pack holds at least one reading');
  const baseS = first.stampedAtMs / 1000;
  const records = messages.map(({ quantity, probe, unit, value, stampedAtMs }, index) => ({
    ...(index === 0 ? { bt: baseS } : {}),
    n: probe ? `${quantity}/${probe}` : quantity,
    u: unit,
    v: value,
    ...(stampedAtMs === first.stampedAtMs ? {} : { t: (stampedAtMs - first.stampedAtMs) / 1000 }),
  }));
  return { topic: `welcomb/${first.sensor}`, payload: JSON.stringify(records) };
}
