import { describe, expect, test } from 'vitest';
import { brief, listener, receivedAtMs } from './support/messages.ts';

const hear = listener();
const iso = '2026-05-14T05:58:30Z';
const at = Date.parse(iso);

test.each<[string, unknown, string]>([
  ['welcomb/scale-3/weight', '12.437', 'scale-3/weight/ 12.437 kg'],
  ['welcomb/scale-3/weight', ' -0.5\n', 'scale-3/weight/ -0.5 kg'],
  ['welcomb/scale-3/weight', '1.2437e1', 'scale-3/weight/ 12.437 kg'],
  ['welcomb/scale-3/weight', { value: 12437, unit: 'g' }, 'scale-3/weight/ 12.437 kg'],
  ['welcomb/scale-3/weight', { value: '27.5', unit: 'lb' }, 'scale-3/weight/ 12.47379 kg'],
  ['welcomb/scale-3/weight', { value: 16, unit: 'oz' }, 'scale-3/weight/ 0.453592 kg'],
  ['welcomb/probe-3/temperature/cage', { value: 93.2, unit: '°F' }, 'probe-3/temperature/cage 34 Cel'],
  ['welcomb/probe-3/temperature', { value: 307.15, unit: 'K' }, 'probe-3/temperature/ 34 Cel'],
  ['welcomb/probe-3/humidity', { value: 0.61, unit: '/' }, 'probe-3/humidity/ 61 %RH'],
  ['welcomb/probe-3/battery', { value: 3712, unit: 'mV' }, 'probe-3/battery/ 3.712 V'],
  ['welcomb/probe-3/battery', '3.6', 'probe-3/battery/ 3.6 V'],
  ['welcomb/probe-3/battery', '3712', 'probe-3/battery/ 3.712 V'],
  ['welcomb/probe-3/battery', '4', 'probe-3/battery/ 4 %EL'],
  ['welcomb/probe-3/battery', '86.5', 'probe-3/battery/ 86.5 %EL'],
  ['welcomb/gauge/rain', '2.4', 'gauge/rain/ 2.4 mm'],
  [
    'welcomb/node-3',
    [{ bn: 'node-3/', n: 'temperature', u: 'Cel', v: 34.6 }],
    'node-3/temperature/ 34.6 Cel',
  ],
  ['welcomb/node-3', [{ n: 'node-3', u: 'kg', v: 12 }], 'node-3/weight/ 12 kg'],
  [
    'welcomb/node-3',
    [{ bn: 'node-3:', n: 'temperature:cage', u: 'Cel', v: 33 }],
    'node-3/temperature/cage 33 Cel',
  ],
  [
    'welcomb/gate',
    [{ n: 'urn:dev:ow:10e2073a01080063', u: 'Cel', v: 23.1 }],
    'gate/temperature/urn:dev:ow:10e2073a01080063 23.1 Cel',
  ],
  ['welcomb/node-3', [{ n: 'humidity', u: '%', v: 0.61 }], 'node-3/humidity/ 61 %RH'],
])('%s %j', (topic, payload, expected) => {
  const understood = hear(topic, payload);
  expect(understood.decoded.quarantine).toBeUndefined();
  expect(brief(understood)).toEqual([expected]);
});

test.each<[string, unknown, RegExp]>([
  ['welcomb/scale-3/weight', 'NaN', /"NaN" is not a number/],
  ['welcomb/scale-3/weight', 'Infinity', /not a number/],
  ['welcomb/scale-3/weight', '0x10', /not a number/],
  ['welcomb/scale-3/weight', '1e999', /not a number/],
  ['welcomb/scale-3/weight', '', /empty/],
  ['welcomb/scale-3/weight', '{"value":', /looks like JSON/],
  ['welcomb/scale-3/weight', [1, 2], /expected a number or/],
  ['welcomb/scale-3/weight', { value: null }, /"value": null is not a number/],
  ['welcomb/scale-3/weight', { weight: 12.4 }, /^"value" is missing$/],
  ['welcomb/scale-3/weight', { value: 12, unit: 'stone' }, /unknown unit "stone"/],
  ['welcomb/scale-3/weight', { value: 12, unit: 'Cel' }, /does not fit the quantity weight/],
  ['welcomb/scale-3/weight', { value: 12, unit: 7 }, /"unit": 7 is not text/],
  ['welcomb/scale-3/weight', { value: 12, time: 'yesterday' }, /"yesterday" can't be read/],
  ['welcomb/scale-3/weight', { value: 12, time: '2026-05-14T06:00:00' }, /no offset from UTC/],
  ['welcomb/scale-3/weight', { value: 12, time: 1e18 }, /neither seconds nor milliseconds/],
  ['welcomb/scale-3/weight', { value: 12, time: {} }, /neither a number nor text/],
  ['welcomb/scale-3/pressure', '990', /unknown quantity "pressure"/],
  ['welcomb/scale-3/weight/a/b', '12', /more levels/],
  ['welcomb//weight', '12', /no sensor name/],
  ['welcomb/node-3', [{ n: 'current', u: 'A', v: 1 }], /no record of the SenML pack/],
  ['welcomb/node-3', '12', /SenML pack is a JSON array/],
  ['elsewhere/weight', '12', /nothing here understands this topic/],
])('refused with the reason: %s %j', (topic, payload, reason) => {
  const { decoded } = hear(topic, payload);
  expect(decoded.readings).toEqual([]);
  expect(decoded.quarantine).toMatch(reason);
});

describe('time', () => {
  const observed = (time: unknown) => hear('welcomb/scale-3/weight', { value: 12, time }).decoded.readings[0];
  test.each([iso, '2026-05-14T07:58:30+02:00', '2026-05-14 05:58:30Z', at / 1000, at, String(at / 1000)])(
    '%s is the sensor’s own time',
    (time) => {
      expect(observed(time)).toMatchObject({ observedAtMs: at, receivedAtMs });
      expect(observed(time)).not.toHaveProperty('suspect');
    },
  );

  test.each([0, 3600, 946_684_800, receivedAtMs + 6 * 60_000, '1970-01-01T00:10:00Z'])(
    'a clock that says %s is not believed: received time, flagged',
    (time) => {
      expect(observed(time)).toMatchObject({ observedAtMs: receivedAtMs, suspect: 'clock' });
    },
  );

  test('late readings and a clock that is a little ahead are believed', () => {
    expect(observed(receivedAtMs - 90 * 86_400_000)).toMatchObject({
      observedAtMs: receivedAtMs - 90 * 86_400_000,
    });
    expect(observed(receivedAtMs + 60_000)).toMatchObject({ observedAtMs: receivedAtMs + 60_000 });
  });

  test('a retained message without a time is last known; with one it is a reading', () => {
    const without = hear('welcomb/scale-3/weight', '12', { retain: true }).decoded;
    expect(without).toMatchObject({ readings: [], lastKnown: [{ value: 12, receivedAtMs }] });
    const relative = hear('welcomb/node-3', [{ n: 'weight', u: 'kg', v: 12, t: -60 }], {
      retain: true,
    }).decoded;
    expect(relative.readings).toEqual([]);
    const own = hear('welcomb/scale-3/weight', { value: 12, time: iso }, { retain: true }).decoded;
    expect(own.readings).toMatchObject([{ observedAtMs: at }]);
  });
});

test('a message of the server itself is no reading', () => {
  expect(hear('welcomb/$server/online', 'true').decoded).toMatchObject({
    readings: [],
    ignored: expect.any(String),
  });
});

test('the good part of a pack is kept when another part is bad', () => {
  const { decoded } = hear('welcomb/node-3', [
    { n: 'weight', u: 'kg', v: 12 },
    { n: 'temperature', u: 'kg', v: 30 },
  ]);
  expect(decoded.readings).toHaveLength(1);
  expect(decoded.quarantine).toMatch(/does not fit the quantity temperature/);
});
