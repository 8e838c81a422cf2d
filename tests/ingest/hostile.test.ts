/** Whatever bytes come on whatever topic: no decoder throws, and nothing that is stored is not a finite number. */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeMessage, type DecodeContext } from '../../ingest/decode/decode-message.ts';
import { atPointer, isPointer } from '../../ingest/decode/json-pointer.ts';
import { readMapping, readMappingFile, type Mapping } from '../../ingest/decode/mapping-schema.ts';
import { decodeByMapping } from '../../ingest/decode/mapping.ts';
import { emptyMemory, learn } from '../../ingest/decode/memory.ts';
import { resolveSenml } from '../../ingest/decode/senml.ts';
import { futureToleranceMs, judge, readInstant } from '../../ingest/decode/time.ts';
import { isNamedFilter, isTopicFilter, matchTopic } from '../../ingest/decode/topic-filter.ts';
import { evaluateTemplate } from '../../ingest/decode/value-template.ts';
import { receivedAtMs } from './support/messages.ts';
import { sized } from '../support/size.ts';

const mapping: Mapping = {
  name: 'any',
  topic: 'any/+sensor/#',
  sensor: { level: 'sensor' },
  time: { pointer: '/t', zone: 'Europe/Paris' },
  values: [
    { quantity: 'weight', pointer: '/w', unit: { pointer: '/u' }, probe: '', factor: 3, optional: true },
    { quantity: 'temperature', pointer: '/a/0/b', probe: { pointer: '/p' }, factor: 1, optional: false },
  ],
};

const topics = [
  'welcomb/s/weight',
  'welcomb/s/temperature/p',
  'welcomb/s',
  'welcomb/s/nothing',
  'any/s/x',
  'homie/5/d/$description',
  'homie/5/d/n/temperature',
  'homie/d/n/p/$unit',
  'hub/sensor/x/config',
  'hub/sensor/n/weight/config',
  'state',
  'v3/app/devices/d/up',
];
const levels = fc.array(
  fc.oneof(fc.constantFrom('welcomb', 'homie', '5', 'sensor', 'config', '', '$x', '__proto__'), fc.string()),
  {
    maxLength: 8,
  },
);
const topic = fc.oneof(
  { weight: 6, arbitrary: fc.constantFrom(...topics) },
  { weight: 1, arbitrary: levels.map((each) => each.join('/')) },
  { weight: 1, arbitrary: fc.string({ unit: 'binary' }) },
);

/** JSON with the keys that decoders look for, so that it gets past the first doors. */
const key = fc.constantFrom(
  ...'value time unit n u v t bn bt bu bv bs s vs vb vd bver ut w a p stat_t val_tpl unit_of_meas dev_cla ~ dev ids nodes properties temperature datatype end_device_ids device_id uplink_message f_cnt fCnt decoded_payload object weight_kg __proto__ constructor x_'.split(
    ' ',
  ),
);
const leaf = fc.oneof(
  fc.double(),
  fc.integer(),
  fc.constantFrom(
    'Cel',
    'kg',
    '%',
    '/',
    'NaN',
    '1e308',
    '-1e308',
    '2026-05-14T06:00:00Z',
    '{{ value_json.v }}',
    'state',
    'float',
    null,
    true,
    1e308,
    -0,
  ),
  fc.string(),
);
const { json } = fc.letrec((tie) => ({
  json: fc.oneof(
    { maxDepth: 5 },
    leaf,
    fc.array(tie('json'), { maxLength: 4 }),
    fc.dictionary(key, tie('json'), { maxKeys: 6 }),
  ),
}));
const number = fc.oneof(fc.double(), fc.integer({ min: -100, max: 1e6 }), fc.constant(1e308));
/** Nearly right: the shapes that we understand, with extreme contents. */
const shaped = fc.oneof(
  fc.record(
    { value: number, time: fc.oneof(number, fc.constant('2026-05-14T06:00:00Z')) },
    { requiredKeys: ['value'] },
  ),
  fc.array(
    fc.record(
      { n: fc.constantFrom('weight', 's/temperature', 'a'), bv: number, v: number, t: number },
      { requiredKeys: ['n'] },
    ),
    {
      minLength: 1,
      maxLength: 4,
    },
  ),
  fc.record({ fCnt: fc.nat(), devEUI: fc.constant('d'), object: fc.dictionary(key, number) }),
  fc.record({
    w: number,
    u: fc.constantFrom('kg', 'lb'),
    t: number,
    a: fc.array(fc.record({ b: number }), { maxLength: 1 }),
    p: fc.string(),
  }),
);
const encoder = new TextEncoder();
const payload = fc.oneof(
  { weight: 3, arbitrary: json.map((value) => encoder.encode(JSON.stringify(value) ?? 'null')) },
  { weight: 3, arbitrary: shaped.map((value) => encoder.encode(JSON.stringify(value))) },
  { weight: 1, arbitrary: fc.uint8Array({ maxLength: 300 }) },
  { weight: 1, arbitrary: fc.string({ unit: 'binary' }).map((text) => encoder.encode(text)) },
  { weight: 1, arbitrary: fc.double().map((value) => encoder.encode(String(value))) },
);

test('10,000 hostile payloads: no throw, only finite numbers, an answer for each', () => {
  const context: DecodeContext = { mappings: [mapping], memory: emptyMemory() };
  let understood = 0;
  fc.assert(
    fc.property(topic, payload, fc.boolean(), (on, bytes, retain) => {
      const { decoded, learned, repeat } = decodeMessage(context, {
        topic: on,
        payload: bytes,
        retain,
        receivedAtMs,
      });
      for (const each of learned) learn(context.memory, each);
      for (const { value, observedAtMs, sensor, probe } of decoded.readings) {
        expect(Number.isFinite(value)).toBe(true);
        expect(Number.isSafeInteger(observedAtMs)).toBe(true);
        expect(observedAtMs).toBeGreaterThanOrEqual(0);
        expect(sensor.length).toBeGreaterThan(0);
        expect(typeof probe).toBe('string');
        understood += 1;
      }
      for (const { value } of decoded.lastKnown) expect(Number.isFinite(value)).toBe(true);
      const answered = decoded.readings.length + decoded.lastKnown.length > 0 || repeat;
      const explained = decoded.quarantine ?? decoded.ignored;
      if (!answered && on.split('/')[0] !== 'any' && on !== 'state') expect(explained).toMatch(/\S/);
    }),
    { numRuns: sized(1500, 10_000), seed: 20260514 },
  );
  // The generator reaches beyond the first doors.
  expect(understood).toBeGreaterThan(sized(20, 200));
});

const quiet = { numRuns: sized(300, 1000), seed: 7 };
describe('each decoder alone, on arbitrary values', () => {
  test('SenML', () => {
    fc.assert(
      fc.property(fc.array(fc.dictionary(key, json)), (pack) => {
        const result = resolveSenml(pack, 1e9);
        if (!result.ok) return;
        const times = result.value.map(({ timeS }) => timeS);
        expect(times).toEqual([...times].sort((a, b) => a - b));
        for (const { value = 0, sum = 0, timeS } of result.value) {
          expect([value, sum, timeS].every(Number.isFinite)).toBe(true);
        }
      }),
      quiet,
    );
  });
  test('mapping', () => {
    fc.assert(
      fc.property(json, (value) => {
        const bytes = encoder.encode(JSON.stringify(value) ?? 'null');
        const { decoded } = decodeByMapping(mapping, {
          topic: 'any/s',
          payload: bytes,
          retain: false,
          receivedAtMs,
        });
        for (const reading of decoded.readings) expect(Number.isFinite(reading.value)).toBe(true);
      }),
      quiet,
    );
  });
  test('a mapping itself, and a file of them', () => {
    fc.assert(
      fc.property(fc.anything(), fc.array(fc.anything()), (candidate, mappings) => {
        readMapping(candidate);
        readMappingFile(candidate);
        readMappingFile({ format: 'welcomb-mappings', version: 1, mappings });
      }),
      quiet,
    );
  });
  test('value template', () => {
    const piece = fc.constantFrom(
      'value',
      'value_json',
      '.v',
      "['v']",
      '[0]',
      '|',
      'float',
      'round(1)',
      '(',
      ')',
      '+',
      '-',
      '*',
      '/',
      '2',
      '"',
    );
    const template = fc.oneof(
      fc.array(piece).map((parts) => `{{ ${parts.join(' ')} }}`),
      fc.string(),
    );
    fc.assert(
      fc.property(template, json, (source, value) => {
        const result = evaluateTemplate(source, JSON.stringify(value) ?? '');
        if (result.ok) expect(Number.isFinite(result.value)).toBe(true);
      }),
      quiet,
    );
  });
  test('JSON Pointer', () => {
    fc.assert(
      fc.property(json, fc.string(), (document, pointer) => {
        if (atPointer(document, pointer).ok) expect(isPointer(pointer)).toBe(true);
      }),
      quiet,
    );
  });
  test('topic filters', () => {
    fc.assert(
      fc.property(fc.string(), fc.string(), (filter, name) => {
        isTopicFilter(filter);
        isNamedFilter(filter);
        matchTopic(filter, name);
      }),
      quiet,
    );
  });
  test('time: never before 1970, never ahead of receipt by more than honest clocks differ', () => {
    fc.assert(
      fc.property(
        fc.oneof(
          fc.double(),
          fc.integer(),
          fc.string(),
          fc.date().map((date) => date.toString()),
          json,
        ),
        (value) => {
          const instant = readInstant(value, { zone: 'Europe/Paris', receivedAtMs: 0 });
          if (!instant.ok) return;
          const { atMs } = judge(instant.value, receivedAtMs);
          expect(Number.isSafeInteger(atMs)).toBe(true);
          expect(atMs).toBeGreaterThanOrEqual(0);
          expect(atMs).toBeLessThanOrEqual(receivedAtMs + futureToleranceMs);
        },
      ),
      quiet,
    );
  });
});
