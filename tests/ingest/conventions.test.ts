/** Payload conventions that other programs speak, each as a table of payloads of their shape. */
import { describe, expect, test } from 'vitest';
import {
  announcementOf,
  emptyMemory,
  learn,
  restoreMemory,
  type DecoderMemory,
} from '../../ingest/decode/memory.ts';
import type { Message } from '../../ingest/decode/message.ts';
import { decodeMessage } from '../../ingest/decode/decode-message.ts';
import { compileTemplate, evaluateTemplate } from '../../ingest/decode/value-template.ts';
import { brief, listener, message, receivedAtMs } from './support/messages.ts';

describe('uplinks of LoRaWAN network servers', () => {
  const first = {
    end_device_ids: { device_id: 'nuc-scale-7', dev_eui: '0004A30B001C0530', dev_addr: '00BCB929' },
    received_at: '2026-05-14T05:59:58.1Z',
    uplink_message: {
      session_key_id: 'AXA50tHUAUucH',
      f_port: 2,
      f_cnt: 312,
      frm_payload: 'AQIDBA==',
      decoded_payload: { weight_kg: 12.43, brood: { temperature: 34.6 }, BatV: 3.61, rssi_like: 'x' },
      rx_metadata: [{ gateway_ids: { gateway_id: 'gtw1' }, rssi: -95 }],
      received_at: '2026-05-14T05:59:57.9Z',
    },
  };
  const second = {
    deduplicationId: '3ac7e3c4-4401-4b8d-9386-a5c902f9202d',
    time: '2026-05-14T05:59:50+00:00',
    deviceInfo: { deviceName: 'nuc scale 8', devEui: '0101010101010101' },
    devAddr: '00189440',
    fCnt: 10,
    fPort: 1,
    data: 'AQ==',
    object: { temperature_1: 34.1, temperature_2: 33.2, relative_humidity_3: 61 },
  };
  const third = {
    dev_eui: '1C29FBD1D2084E21',
    devaddr: 'B5A44869',
    fcnt: 19,
    reported_at: receivedAtMs - 5000,
    payload: 'SGVsbG8=',
    decoded: { payload: { weight: 11.9 } },
  };
  test.each<[unknown, readonly string[], number]>([
    [
      first,
      [
        'nuc-scale-7/weight/ 12.43 kg',
        'nuc-scale-7/temperature/brood 34.6 Cel',
        'nuc-scale-7/battery/ 3.61 V',
      ],
      Date.parse('2026-05-14T05:59:57.9Z'),
    ],
    [
      second,
      [
        '0101010101010101/temperature/1 34.1 Cel',
        '0101010101010101/temperature/2 33.2 Cel',
        '0101010101010101/humidity/3 61 %RH',
      ],
      Date.parse('2026-05-14T05:59:50Z'),
    ],
    [third, ['1C29FBD1D2084E21/weight/ 11.9 kg'], receivedAtMs - 5000],
  ])('layout %#', (payload, expected, at) => {
    const understood = listener()('any/topic/up', payload);
    expect(understood.decoded.quarantine).toBeUndefined();
    expect(brief(understood)).toEqual(expected);
    expect(understood.decoded.readings[0]?.observedAtMs).toBe(at);
  });

  test('a frame that comes again is passed over; a left-out counter is frame 0', () => {
    const hear = listener();
    hear('v3/a/devices/x/up', first);
    expect(hear('v3/a/devices/x/up', first).repeat).toBe(true);
    const { f_cnt: _zero, ...zero } = first.uplink_message;
    expect(hear('v3/a/devices/x/up', { ...first, uplink_message: zero }).decoded.readings).toHaveLength(3);
  });

  test('without decoded fields, or with names that say nothing, it asks for what is missing', () => {
    const { object: _object, ...bare } = second;
    expect(listener()('x/up', bare).decoded.quarantine).toMatch(/no decoded fields/);
    expect(listener()('x/up', { ...bare, object: { a: 1 } }).decoded.quarantine).toMatch(/no field .*\(a\)/);
  });
});

describe('Homie', () => {
  const description = {
    homie: '5.0',
    version: 7,
    nodes: {
      brood: {
        properties: { temperature: { datatype: 'float', unit: '°F' }, lamp: { datatype: 'boolean' } },
      },
      scale: { properties: { mass: { datatype: 'float', unit: 'g' } } },
    },
  };
  test('version 5: values after their description', () => {
    const hear = listener();
    expect(hear('homie/5/nuc-3/brood/temperature', '93.2').decoded.quarantine).toMatch(/has not described/);
    expect(hear('homie/5/nuc-3/brood/temperature', '93.2', { retain: true }).decoded.ignored).toBeDefined();
    hear('homie/5/nuc-3/$description', description);
    expect(brief(hear('homie/5/nuc-3/brood/temperature', '93.2'))).toEqual([
      'nuc-3/temperature/brood 34 Cel',
    ]);
    expect(brief(hear('homie/5/nuc-3/scale/mass', '12500'))).toEqual(['nuc-3/weight/scale:mass 12.5 kg']);
    expect(hear('homie/5/nuc-3/brood/temperature', 'warm').decoded.quarantine).toMatch(/not a number/);
    for (const topic of ['$state', 'brood/lamp', 'brood/lamp/set', 'brood/temperature/$target']) {
      expect(hear(`homie/5/nuc-3/${topic}`, 'true').decoded).toMatchObject({
        readings: [],
        ignored: expect.any(String),
      });
    }
  });
  test('version 4: attribute by attribute', () => {
    const hear = listener();
    hear('homie/nuc-4/brood/temperature/$datatype', 'float');
    hear('homie/nuc-4/brood/temperature/$unit', '°C');
    expect(brief(hear('homie/nuc-4/brood/temperature', '34.5'))).toEqual([
      'nuc-4/temperature/brood 34.5 Cel',
    ]);
  });
});

describe('discovery messages', () => {
  const config = {
    '~': 'hive/3',
    stat_t: '~/state',
    unit_of_meas: '°F',
    dev_cla: 'temperature',
    val_tpl: '{{ value_json.brood.t | float / 10 }}',
    dev: { ids: ['hive-3'] },
  };
  test('a sensor is announced, heard, and withdrawn', () => {
    const hear = listener();
    expect(hear('hub/sensor/hive3_brood_temperature/config', config).decoded.quarantine).toBeUndefined();
    expect(brief(hear('hive/3/state', { brood: { t: 932 } }))).toEqual(['hive-3/temperature/brood 34 Cel']);
    expect(hear('hive/3/state', { brood: {} }).decoded.quarantine).toMatch(/does not fit its value template/);
    hear('hub/sensor/hive3_brood_temperature/config', '', { payload: new Uint8Array() });
    expect(hear('hive/3/state', { brood: { t: 932 } }).decoded.quarantine).toMatch(
      /nothing here understands/,
    );
  });
  test('several sensors may share one state topic', () => {
    const hear = listener();
    const both = { state_topic: 's', device: { identifiers: 'n1' } };
    hear('hub/sensor/n1/weight/config', {
      ...both,
      unit_of_measurement: 'kg',
      value_template: '{{ value_json.w }}',
    });
    hear('hub/sensor/n1/hum/config', {
      ...both,
      unit_of_measurement: '%',
      device_class: 'humidity',
      value_template: "{{ value_json['h'] | round(1) }}",
    });
    expect(brief(hear('s', { w: 12.5, h: 61.23 }))).toEqual(['n1/weight/ 12.5 kg', 'n1/humidity/ 61.2 %RH']);
  });
  test.each<[unknown, RegExp]>([
    [{ stat_t: 's', dev_cla: 'temperature', val_tpl: '{% if x %}1{% endif %}' }, /more than one expression/],
    [{ stat_t: 's', dev_cla: 'temperature', val_tpl: '{{ states("x") }}' }, /not understood/],
    [
      { stat_t: 's', dev_cla: 'temperature', val_tpl: '{{ value_json.t | float(0) }}' },
      /argument of "float"/,
    ],
    [{ stat_t: 's', dev_cla: 'temperature', unit_of_meas: 'Réaumur' }, /unknown unit/],
    ['no JSON', /not a JSON object/],
  ])('what is beyond us asks for a mapping: %j', (bad, reason) => {
    expect(listener()('hub/sensor/x/config', bad).decoded.quarantine).toMatch(reason);
  });
  test('sensors of other things are passed over in silence', () => {
    const other = { stat_t: 's', dev_cla: 'illuminance', unit_of_meas: 'lx' };
    expect(listener()('hub/sensor/x/config', other).decoded).toMatchObject({
      readings: [],
      ignored: expect.any(String),
    });
  });
});

describe('value templates', () => {
  test.each<[string, string, number]>([
    ['{{ value }}', '12.5', 12.5],
    ['{{value_json.a.b}}', '{"a":{"b":3}}', 3],
    ['{{ value_json["a b"][1] }}', '{"a b":[1,2]}', 2],
    ['{{ (value_json.t - 32) * 5 / 9 }}', '{"t":93.2}', 34],
    ['{{ value_json.t | float / 10 | round(1) }}', '{"t":346}', 34.6],
    ['{{ (value_json.t | int) | abs }}', '{"t":"-3.9"}', 3],
    ['{{ -value_json.t + 1 }}', '{"t":2}', -1],
    ['{{- value_json.t -}}', '{"t":2}', 2],
  ])('%s of %s', (template, payload, expected) => {
    const result = evaluateTemplate(template, payload);
    expect(result.ok && result.value).toBeCloseTo(expected, 9);
  });
  test.each([
    '{{ }}',
    '{{ value_json.__proto__ + }}',
    '{{ value | default(3) }}',
    '{{ 1 if value else 2 }}',
    'value',
    '{{ value }}{{ value }}',
  ])('refused: %s', (template) => {
    expect(compileTemplate(template).ok).toBe(false);
  });
  test('what is not there is not a number', () => {
    expect(evaluateTemplate('{{ value_json.constructor }}', '{}').ok).toBe(false);
    expect(evaluateTemplate('{{ value_json.a / 0 }}', '{"a":1}').ok).toBe(false);
    expect(evaluateTemplate('{{ value_json.a }}', 'no json').ok).toBe(false);
  });
});

describe('what a sensor is called', () => {
  const namesFrom = (...heard: Message[]): Record<string, string> => {
    const memory = emptyMemory();
    for (const each of heard)
      for (const learned of decodeMessage({ mappings: [], memory }, each).learned) learn(memory, learned);
    return Object.fromEntries(memory.names);
  };
  const uplink = (deviceName: unknown, fCnt = 1): Message =>
    message('application/1/device/x/event/up', {
      deviceInfo: { deviceName, devEui: '0101010101010101' },
      devAddr: '00189440',
      fCnt,
      data: 'AQ==',
      object: { temperature: 34.1 },
    });

  test.each<[string, readonly Message[], Record<string, string>]>([
    ['an uplink', [uplink('Elm 3, brood')], { '0101010101010101': 'Elm 3, brood' }],
    ['a later uplink', [uplink('Elm 3'), uplink('Elm 4', 2)], { '0101010101010101': 'Elm 4' }],
    ['an uplink without a name', [uplink('')], {}],
    [
      'an uplink with what is no name',
      [uplink({ a: 1 }), uplink('x'.repeat(201), 2), uplink('a\u0007', 3)],
      {},
    ],
    [
      'a discovery message',
      [message('hub/sensor/n1/weight/config', { stat_t: 's', unit_of_meas: 'kg', dev: { name: 'Ash 2' } })],
      { n1: 'Ash 2' },
    ],
    ['a description', [message('homie/5/n2/$description', { name: 'Shed', nodes: {} })], { n2: 'Shed' }],
    ['an attribute', [message('homie/n4/$name', 'Gate')], { n4: 'Gate' }],
  ])('comes from %s', (_what, heard, names) => {
    expect(namesFrom(...heard)).toEqual(names);
  });

  test('is kept over a restart, and once however often it is said', () => {
    const memory = emptyMemory();
    const kept = [uplink('Elm 3'), uplink('Elm 3', 2)].flatMap((heard) =>
      decodeMessage({ mappings: [], memory }, heard).learned.flatMap((each) => {
        const announcement = announcementOf(memory, each) ?? [];
        learn(memory, each);
        return announcement;
      }),
    );
    expect(kept).toHaveLength(1);
    expect(restoreMemory(kept).names.get('0101010101010101')).toBe('Elm 3');
  });
});

describe('what sensors announced', () => {
  const announce = message('hub/sensor/n1/weight/config', { stat_t: 's', unit_of_meas: 'kg' });
  const withdraw = message('hub/sensor/n1/weight/config', '');
  const describes = message('homie/5/n2/$description', {
    homie: '5.0',
    version: 1,
    nodes: { box: { properties: { temperature: { datatype: 'float', unit: '°C' } } } },
  });

  /** Hears the messages in order; what is to be kept of each. */
  const hearing = (memory: DecoderMemory) => (heard: Message) => {
    const { learned } = decodeMessage({ mappings: [], memory }, heard);
    return learned.flatMap((each) => {
      const announcement = announcementOf(memory, each) ?? [];
      learn(memory, each);
      return announcement;
    });
  };

  test('survives a restart as JSON', () => {
    const hear = hearing(emptyMemory());
    const memory = restoreMemory([...hear(announce), ...hear(describes)]);
    const context = { mappings: [], memory };
    expect(brief(decodeMessage(context, message('s', '12')))).toEqual(['n1/weight/ 12 kg']);
    expect(brief(decodeMessage(context, message('homie/5/n2/box/temperature', '34')))).toEqual([
      'n2/temperature/box 34 Cel',
    ]);
  });

  test('is to be kept once however often it is said, and again when it changes or ends', () => {
    const hear = hearing(emptyMemory());
    expect(hear(announce)).toHaveLength(1);
    expect(hear(announce)).toEqual([]);
    expect(hear(message('hub/sensor/n1/weight/config', { stat_t: 's', unit_of_meas: 'lb' }))).toHaveLength(1);
    expect(hear(withdraw)).toMatchObject([{ value: null }]);
    expect(hear(withdraw)).toEqual([]);
  });
});
