/** One value on its way to a reading: unit, time, and whether it is a reading at all. */
import { rawCounts, toStoredUnit, type Quantity } from '../../server/units.ts';
import { refused, shown, type Decoded, type Message } from './message.ts';
import { judge } from './time.ts';

export interface Measurement {
  readonly sensor: string;
  readonly quantity: Quantity;
  readonly probe: string;
  readonly value: number;
  readonly unit?: string | undefined;
  /** The sensor's own time, where it sent one. */
  readonly claimedMs?: number | undefined;
}

const none: readonly never[] = [];

/** What counts stand for, only the keeper's calibration says; where there is one, the gate of quality takes this back. */
const whyNoValue = (unit: string | undefined): 'uncalibrated' | undefined =>
  unit === rawCounts ? 'uncalibrated' : undefined;

const mostName = 200;
// oxlint-disable-next-line no-control-regex -- these are what is looked for
const control = /[\u0000-\u001f\u007f]/;

/** Names become channels that are kept: of a sensor, or of a probe. */
function whyNoName(name: string): string | undefined {
  if (name.length > mostName) return `the name "${shown(name)}" has more than ${String(mostName)} characters`;
  return control.test(name) ? `the name ${JSON.stringify(shown(name))} has control characters` : undefined;
}

/** What a sensor is called, from what it sent; undefined where that can't be a name. */
export function readName(value: unknown): string | undefined {
  const name = typeof value === 'string' ? value.trim() : '';
  return name === '' || whyNoName(name) !== undefined ? undefined : name;
}

/** A retained message without a time of its own is the last known value; anything else is a reading. */
export function toDecoded(measurement: Measurement, message: Message): Decoded {
  const { sensor, quantity, probe, claimedMs } = measurement;
  const badName = whyNoName(sensor) ?? whyNoName(probe);
  if (badName !== undefined) return refused(badName);
  const converted = toStoredUnit(quantity, measurement.value, measurement.unit);
  if (!converted.ok) return refused(`${quantity} of ${sensor}: ${converted.reason}`);
  const { receivedAtMs } = message;
  const { unit, value } = converted;
  if (claimedMs === undefined && message.retain) {
    return { readings: none, lastKnown: [{ sensor, quantity, probe, unit, value, receivedAtMs }] };
  }
  const { atMs: observedAtMs, suspect = whyNoValue(measurement.unit) } = judge(claimedMs, receivedAtMs);
  const reading = { sensor, quantity, probe, unit, value, observedAtMs, receivedAtMs };
  if (suspect === undefined) return { readings: [reading], lastKnown: none };
  return { readings: [{ ...reading, suspect }], lastKnown: none };
}

/** Several parts of one message; the first few reasons become one sentence. */
export function joinDecoded(parts: readonly Decoded[]): Decoded {
  const reasons = parts.flatMap((part) => (part.quarantine === undefined ? [] : [part.quarantine]));
  const joined = {
    readings: parts.flatMap((part) => part.readings),
    lastKnown: parts.flatMap((part) => part.lastKnown),
  };
  if (reasons.length === 0) return joined;
  const more = reasons.length > 3 ? `; and ${String(reasons.length - 3)} more` : '';
  return { ...joined, quarantine: reasons.slice(0, 3).join('; ') + more };
}
