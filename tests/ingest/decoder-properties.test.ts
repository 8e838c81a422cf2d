/**
 * Each convention alone, on messages that are nearly right: what is in order comes out as it went in, whatever else is
 * in the message; what is not in order is answered with a sentence, never with a reading that nobody sent.
 */
import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { decodeDiscovery } from '../../ingest/decode/discovery.ts';
import { decodeHomie } from '../../ingest/decode/homie.ts';
import { decodeUplink } from '../../ingest/decode/lorawan.ts';
import { emptyMemory, learn } from '../../ingest/decode/memory.ts';
import type { Decoded, Message } from '../../ingest/decode/message.ts';
import { decodeOwnTopic } from '../../ingest/decode/own-topics.ts';
import { listener, message } from './support/messages.ts';

const word = fc.stringMatching(/^[a-z][a-z0-9-]{0,8}$/);
const celsius = fc.integer({ min: -400, max: 800 }).map((tenths) => tenths / 10);
const junk = fc.jsonValue({ maxDepth: 3 });
/** Keys that the conventions use for other things, filled with anything. */
const beside = (...keys: string[]) => fc.dictionary(fc.constantFrom(...keys), junk, { maxKeys: 3 });
const bytes = fc.oneof(
  fc.uint8Array({ maxLength: 200 }),
  fc.string({ unit: 'binary' }).map((text) => new TextEncoder().encode(text)),
  junk.map((value) => new TextEncoder().encode(JSON.stringify(value))),
);

function expectSound(decoded: Decoded | undefined): void {
  if (!decoded) return;
  for (const { value, observedAtMs, sensor } of decoded.readings) {
    expect(Number.isFinite(value)).toBe(true);
    expect(Number.isSafeInteger(observedAtMs)).toBe(true);
    expect(sensor).not.toBe('');
  }
  for (const { value } of decoded.lastKnown) expect(Number.isFinite(value)).toBe(true);
  const said = decoded.quarantine ?? decoded.ignored;
  if (decoded.readings.length + decoded.lastKnown.length === 0) expect(said).toMatch(/\S/);
}
const any = (topic: string, payload: Uint8Array, retain: boolean): Message => ({
  ...message(topic, ''),
  payload,
  retain,
});

describe('our own topics', () => {
  test('a value is stored as it was sent', () => {
    fc.assert(
      fc.property(word, word, celsius, beside('note', 'rssi', 'id'), (sensor, probe, value, more) => {
        const decoded = decodeOwnTopic(message(`welcomb/${sensor}/temperature/${probe}`, { ...more, value }));
        expect(decoded?.readings).toMatchObject([{ sensor, probe, value, quantity: 'temperature' }]);
      }),
    );
  });
  test('any bytes get an answer', () => {
    const under = fc.constantFrom(
      's',
      's/weight',
      's/temperature/p',
      's/battery',
      's/what',
      '',
      '/',
      's/weight/a/b',
    );
    fc.assert(
      fc.property(under, bytes, fc.boolean(), (topic, payload, retain) => {
        expectSound(decodeOwnTopic(any(`welcomb/${topic}`, payload, retain)));
      }),
    );
  });
});

describe('Homie', () => {
  const description = (node: string, property: string, more: object) => ({
    homie: '5.0',
    version: 1,
    nodes: { [node]: { properties: { [property]: { ...more, datatype: 'float', unit: '°C' } } } },
  });
  test('a described temperature is stored as it was sent, in version 5 and 4', () => {
    fc.assert(
      fc.property(word, word, celsius, beside('format', 'name', 'settable'), (device, node, value, more) => {
        const five = listener();
        five(`homie/5/${device}/$description`, description(node, 'temperature', more));
        const four = listener();
        four(`homie/${device}/${node}/temperature/$datatype`, 'float');
        four(`homie/${device}/${node}/temperature/$unit`, '°C');
        const heard = [
          five(`homie/5/${device}/${node}/temperature`, String(value)),
          four(`homie/${device}/${node}/temperature`, String(value)),
        ];
        for (const { decoded } of heard) {
          expect(decoded.readings).toMatchObject([{ sensor: device, value, quantity: 'temperature' }]);
        }
      }),
    );
  });
  test('any description and any value get an answer', () => {
    const shape = fc.record(
      {
        homie: junk,
        nodes: fc.oneof(junk, fc.dictionary(word, fc.oneof(junk, fc.record({ properties: junk })))),
      },
      { requiredKeys: [] },
    );
    const topic = fc.constantFrom(
      'homie/5/d/$description',
      'homie/5/d/n/p',
      'homie/5/d/n/temperature',
      'homie/d/n/p/$unit',
      'homie/d/n/temperature',
      'homie/5',
      'homie/',
      'homie/5/d/n/p/set',
    );
    const memory = emptyMemory();
    fc.assert(
      fc.property(
        topic,
        fc.oneof(
          bytes,
          shape.map((value) => new TextEncoder().encode(JSON.stringify(value))),
        ),
        fc.boolean(),
        (on, payload, retain) => {
          const heard = decodeHomie(any(on, payload, retain), memory);
          expectSound(heard?.decoded);
          for (const each of heard?.learned ?? []) learn(memory, each);
        },
      ),
    );
  });
});

describe('discovery messages', () => {
  test('an announced temperature is stored as it was sent', () => {
    fc.assert(
      fc.property(
        word,
        word,
        celsius,
        beside('name', 'uniq_id', 'exp_aft', 'sug_dsp_prc'),
        (id, field, value, more) => {
          const hear = listener();
          hear(`hub/sensor/${id}/config`, {
            ...more,
            stat_t: `state/${id}`,
            dev_cla: 'temperature',
            unit_of_meas: '°C',
            val_tpl: `{{ value_json['${field}'] }}`,
            dev: { ids: [id] },
          });
          const { decoded } = hear(`state/${id}`, { [field]: value });
          expect(decoded.readings).toMatchObject([{ sensor: id, value, quantity: 'temperature' }]);
        },
      ),
    );
  });
  test('any announcement gets an answer, and what it announced is heard or refused', () => {
    const config = fc.record(
      {
        stat_t: fc.oneof(fc.constantFrom('s', '~/s', '', '#', '+/x'), junk),
        '~': fc.oneof(fc.constantFrom('base', ''), junk),
        dev_cla: fc.oneof(fc.constantFrom('temperature', 'weight', 'humidity', 'battery'), junk),
        unit_of_meas: fc.oneof(fc.constantFrom('°C', '°F', 'kg', 'lb', '%'), junk),
        val_tpl: fc.oneof(fc.constantFrom('{{ value }}', '{{ value_json.t }}', '{{', '{% if 1 %}'), junk),
        dev: fc.oneof(fc.record({ ids: junk }), junk),
      },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(config, bytes, fc.boolean(), (announced, payload, retain) => {
        const memory = emptyMemory();
        const first = decodeDiscovery(message('hub/sensor/x/config', announced), memory);
        expectSound(first?.decoded);
        for (const each of first?.learned ?? []) learn(memory, each);
        for (const topic of memory.byStateTopic.keys()) {
          expectSound(decodeDiscovery(any(topic, payload, retain), memory)?.decoded);
        }
      }),
    );
  });
});

describe('uplinks of LoRaWAN network servers', () => {
  test('decoded fields are stored as they were sent, and the frame is known by device and counter', () => {
    fc.assert(
      fc.property(
        word,
        fc.nat({ max: 65_535 }),
        celsius,
        beside('fPort', 'adr', 'dr'),
        (device, counter, value, more) => {
          const first = decodeUplink(
            message('app/up', {
              ...more,
              end_device_ids: { device_id: device },
              uplink_message: { f_cnt: counter, decoded_payload: { temperature: value } },
            }),
          );
          const second = decodeUplink(
            message('app/up', {
              ...more,
              deviceInfo: { devEui: device },
              fCnt: counter,
              object: { temperature: value },
            }),
          );
          for (const uplink of [first, second]) {
            expect(uplink?.decoded.readings).toMatchObject([
              { sensor: device, value, quantity: 'temperature' },
            ]);
            expect(uplink?.key.counter).toBe(counter);
          }
        },
      ),
    );
  });
  test('any uplink gets an answer', () => {
    const uplink = fc.record(
      {
        devEUI: junk,
        deviceInfo: fc.oneof(junk, fc.record({ devEui: junk })),
        fCnt: fc.oneof(fc.nat(), junk),
        time: junk,
        object: fc.oneof(junk, fc.dictionary(fc.constantFrom('temperature', 'weight_kg', 'x'), junk)),
        uplink_message: junk,
      },
      { requiredKeys: [] },
    );
    fc.assert(
      fc.property(uplink, fc.boolean(), (payload, retain) => {
        expectSound(decodeUplink(message('app/up', payload, { retain }))?.decoded);
      }),
    );
    fc.assert(
      fc.property(bytes, fc.boolean(), (payload, retain) => {
        expectSound(decodeUplink(any('app/up', payload, retain))?.decoded);
      }),
    );
  });
});
