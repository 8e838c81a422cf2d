import { describe, expect, test } from 'vitest';
import { readMappingFile, readMapping, type Mapping } from '../../ingest/decode/mapping-schema.ts';
import { decodeByMapping, tryMapping } from '../../ingest/decode/mapping.ts';
import { guessField } from '../../ingest/decode/field-names.ts';
import { brief, listener, message, receivedAtMs } from './support/messages.ts';

function mapping(candidate: unknown): Mapping {
  const result = readMapping(candidate);
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}

const plain = mapping({
  name: 'shed scales',
  topic: 'shed/+sensor/w',
  sensor: { level: 'sensor' },
  values: [{ quantity: 'weight', unit: 'g' }],
});
const nested = mapping({
  name: 'gateway',
  topic: 'gw/#',
  sensor: { pointer: '/dev/id' },
  time: { pointer: '/ts', zone: 'Europe/Paris' },
  values: [
    { quantity: 'weight', pointer: '/m/kg~1total', unit: 'kg' },
    { quantity: 'temperature', pointer: '/m/t/0', unit: { pointer: '/m/tu' }, probe: 'brood' },
    {
      quantity: 'temperature',
      pointer: '/m/t/1',
      unit: { pointer: '/m/tu' },
      probe: { pointer: '/m/second' },
    },
    { quantity: 'battery', pointer: '/bat', unit: 'mV', optional: true },
    { quantity: 'rain', pointer: '/rain', factor: 0.1, optional: true },
  ],
});
const good = {
  dev: { id: 42 },
  ts: '2026-05-14T07:30:00',
  m: { 'kg/total': '12.5', t: [93.2, 68], tu: '°F', second: 'cage' },
  bat: 3700,
  rain: null,
};

test('plain numbers: the topic tells the sensor', () => {
  expect(brief(listener([plain])('shed/left/w', '12500'))).toEqual(['left/weight/ 12.5 kg']);
});

test('nested JSON: several values, unit and probe from the message, local time by its zone', () => {
  const understood = listener([nested])('gw/a/b', good);
  expect(brief(understood)).toEqual([
    '42/weight/ 12.5 kg',
    '42/temperature/brood 34 Cel',
    '42/temperature/cage 20 Cel',
    '42/battery/ 3.7 V',
  ]);
  expect(understood.decoded.readings[0]?.observedAtMs).toBe(Date.parse('2026-05-14T05:30:00Z'));
});

// In Paris clocks were put back at 01:00 UTC on 25 October 2026: the hour from two o'clock comes twice (IANA tz database).
test.each([
  ['the first time', '2026-10-25T00:30:10Z', '2026-10-25T00:30:00Z'],
  ['the second time', '2026-10-25T01:30:10Z', '2026-10-25T01:30:00Z'],
  ['the second time, by a clock that is a little ahead', '2026-10-25T01:29:00Z', '2026-10-25T01:30:00Z'],
  ['hours later', '2026-10-25T06:00:00Z', '2026-10-25T01:30:00Z'],
])('a local time that the night shows twice is the last that can be: %s', (_what, receivedAt, observedAt) => {
  const message = {
    topic: 'gw/a',
    payload: Buffer.from(JSON.stringify({ ...good, ts: '2026-10-25T02:30:00' })),
    retain: false,
    receivedAtMs: Date.parse(receivedAt),
  };
  const { readings } = decodeByMapping(nested, message).decoded;
  expect(new Set(readings.map(({ observedAtMs }) => observedAtMs))).toEqual(
    new Set([Date.parse(observedAt)]),
  );
});

test.each<[string, unknown, RegExp]>([
  ['a member is missing', { ...good, m: {} }, /\/m\/kg~1total: no member/],
  ['the sensor has no name', { ...good, dev: { id: '' } }, /sensor has no name/],
  ['the name is an object', { ...good, dev: { id: {} } }, /is no name/],
  ['the time is wrong', { ...good, ts: 'soon' }, /"soon" can't be read/],
  ['a value is text', { ...good, bat: 'full' }, /"full" is not a number/],
  ['not JSON', 'hello', /not JSON/],
])('refused with the mapping’s name and the reason: %s', (_what, payload, reason) => {
  const { quarantine } = listener([nested])('gw/a', payload).decoded;
  expect(quarantine).toMatch(/^mapping "gateway": /);
  expect(quarantine).toMatch(reason);
});

test('the first mapping that reads the message counts; own topics come before all of them', () => {
  const everything = mapping({
    name: 'all',
    topic: '#',
    sensor: { text: 'caught' },
    values: [{ quantity: 'weight' }],
  });
  expect(brief(listener([nested, everything])('gw/a', '7'))).toEqual(['caught/weight/ 7 kg']);
  expect(brief(listener([everything])('welcomb/own/weight', '7'))).toEqual(['own/weight/ 7 kg']);
});

describe('repeats by device and frame counter', () => {
  const framed = mapping({
    ...nested,
    name: 'framed',
    time: undefined,
    values: [{ quantity: 'weight', pointer: '/kg' }],
    frame: { device: '/dev/id', counter: '/n' },
  });
  const frame = { dev: { id: 'a' }, n: 5, kg: 12 };
  test('the same frame again is passed over; after a reset the counter starts again with other content', () => {
    const hear = listener([framed]);
    expect(hear('gw/a', frame).decoded.readings).toHaveLength(1);
    expect(hear('gw/b', frame)).toMatchObject({ repeat: true, decoded: { readings: [] } });
    expect(hear('gw/a', { ...frame, kg: 13 }).decoded.readings).toHaveLength(1);
    const later = { receivedAtMs: receivedAtMs + 2 * 3_600_000 };
    expect(hear('gw/a', frame, later).decoded.readings).toHaveLength(1);
  });
});

describe('a mapping is checked before it is saved', () => {
  test.each<[unknown, RegExp]>([
    [{ ...plain, topic: 'shed/#/w' }, /topic: expected an MQTT topic filter/],
    [{ ...plain, sensor: { level: 'probe' } }, /sensor: the topic has no level named \+probe/],
    [{ ...plain, values: [] }, /values/],
    [{ ...plain, values: [{ quantity: 'weight', unit: 'Cel' }] }, /values\.0\.unit: .*does not fit/],
    [
      { ...plain, values: [{ quantity: 'weight', pointer: 'kg' }] },
      /values\.0\.pointer: expected a JSON Pointer/,
    ],
    [
      { ...plain, values: [{ quantity: 'weight' }, { quantity: 'rain' }] },
      /several values need a pointer each/,
    ],
    [{ ...plain, colour: 'red' }, /colour/],
    [{ ...nested, time: { pointer: '/ts', zone: 'Mars/Base' } }, /time\.zone: expected an IANA time zone/],
    [{ ...plain, values: [{ quantity: 'weight', factor: 0 }] }, /factor/],
  ])('%#', (candidate, reason) => {
    const result = readMapping(candidate);
    expect(result.ok ? '' : result.reason).toMatch(reason);
  });

  test('tried on a message, it says what it would make of it or why not', () => {
    const tried = tryMapping(plain, message('shed/left/w', '12500'));
    expect(tried).toMatchObject({ ok: true, decoded: { readings: [{ sensor: 'left', value: 12.5 }] } });
    expect(tryMapping(plain, message('barn/left/w', '1'))).toMatchObject({
      ok: false,
      reason: expect.stringContaining('does not match shed/+sensor/w'),
    });
  });
});

test('mappings leave and come back as JSON; a file with one bad mapping is refused whole', () => {
  const file = (...mappings: object[]): unknown =>
    JSON.parse(JSON.stringify({ format: 'welcomb-mappings', version: 1, mappings })) as unknown;
  expect(readMappingFile(file(plain, { ...nested, enabled: false }))).toEqual({
    ok: true,
    value: [
      { enabled: true, mapping: plain },
      { enabled: false, mapping: nested },
    ],
  });
  expect(readMappingFile(file(nested, { ...plain, topic: '#/x' }))).toMatchObject({
    ok: false,
    reason: expect.stringMatching(/mappings\.1\..*topic/),
  });
  expect(readMappingFile(file({ ...plain, colour: 'red' }))).toMatchObject({ ok: false });
  expect(readMappingFile({ mappings: [plain] })).toMatchObject({ ok: false });
});

test.each([
  { name: 'brood_temp_f', guess: { quantity: 'temperature', unit: '°F', probe: 'brood' } },
  { name: 'weightKg', guess: { quantity: 'weight', unit: 'kg', probe: '' } },
  { name: 'BatV', guess: { quantity: 'battery', unit: 'V', probe: '' } },
  { name: 'rssi', guess: undefined },
  { name: 'temp_set', guess: undefined },
])('a field called $name is guessed from its name', ({ name, guess }) => {
  expect(guessField(name)).toEqual(guess);
});
