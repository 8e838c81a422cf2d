/** What a broken or malicious sender may say: every form of topic that is read, and bodies that break careless readers. */

/** Announces `hub/state`, so that what comes there is read through a value template. */
export const announcement = {
  topic: 'hub/sensor/announced/config',
  payload: JSON.stringify({
    state_topic: 'hub/state',
    device_class: 'temperature',
    unit_of_measurement: '°C',
    value_template: '{{ value_json.value }}',
  }),
};

/** Reads `mapped/<sensor>`. */
export const mapping = {
  topic: 'mapped/+sensor',
  sensor: { level: 'sensor' },
  time: { pointer: '/time' },
  values: [{ quantity: 'temperature', pointer: '/value', unit: { pointer: '/unit' } }],
};

export const hostileTopics: readonly string[] = [
  'welcomb/s/temperature',
  'welcomb/s/temperature/p',
  'welcomb/s',
  'welcomb/s/nothing',
  'welcomb/$forecast',
  'welcomb/$forecast/Orchard',
  'homie/5/d/$description',
  'homie/5/d/n/temperature',
  'homie/d/n/temperature/$unit',
  'homie/d/n/temperature',
  'hub/sensor/x/config',
  'hub/sensor/n/x/config',
  'hub/state',
  'mapped/s',
  'application/1/device/d/event/up',
];

export const nested = (depth: number): string => '['.repeat(depth) + ']'.repeat(depth);
const nestedObjects = (depth: number): string => '{"a":'.repeat(depth) + '1' + '}'.repeat(depth);

/** Where readers look for a value, filled with `inner` (JSON text). */
const around = (inner: string): readonly string[] => [
  `{"value":${inner},"time":${inner},"unit":${inner}}`,
  `[{"n":"temperature","v":${inner}}]`,
  `{"state_topic":${inner},"device":{"identifiers":${inner}},"device_class":"temperature"}`,
  `{"nodes":{"n":{"properties":{"temperature":{"datatype":"float","unit":${inner}}}}}}`,
  `{"fCnt":1,"devEUI":"d","time":${inner},"object":{"temperature":${inner}}}`,
  `{"issued":${inner},"hours":[{"time":${inner},"temperature":${inner}}]}`,
];

const depths = [63, 64, 65, 200, 2000, 20_000];

/** @param manyBytes how large the body is that no broker of ours takes whole */
export function hostileBodies(manyBytes: number): readonly { name: string; body: Buffer }[] {
  const texts: [string, string][] = [
    ...depths.map((depth): [string, string] => [`arrays ${String(depth)} deep`, nested(depth)]),
    ...depths.map((depth): [string, string] => [`objects ${String(depth)} deep`, nestedObjects(depth)]),
    ...[60, 2000, 20_000].flatMap((depth) =>
      around(nested(depth)).map((text, i): [string, string] => [
        `form ${String(i)} around ${String(depth)}`,
        text,
      ]),
    ),
    ...around(JSON.stringify('x'.repeat(30_000))).map((text, i): [string, string] => [
      `form ${String(i)} around a long text`,
      text,
    ]),
    ...around('9'.repeat(5000)).map((text, i): [string, string] => [
      `form ${String(i)} around a long number`,
      text,
    ]),
    ['a long number', '9'.repeat(100_000)],
    ['a number beyond all', '1e400'],
    ['a long text', JSON.stringify('x'.repeat(200_000))],
    ['brackets without an end', '['.repeat(100_000)],
    ['a quote without an end', `"${'['.repeat(100_000)}`],
    [
      '__proto__',
      '{"__proto__":{"value":1},"constructor":{"prototype":{"value":1}},"value":{"__proto__":null}}',
    ],
    ['__proto__ as names', '[{"bn":"__proto__/","n":"constructor","u":"Cel","v":1}]'],
    ['NUL', '\0'],
    ['NUL in JSON', '{"value":"\\u0000","unit":"\\u0000","time":"\\u0000"}'],
    ['half a pair of surrogates', '{"value":"\\ud800","unit":"\\udfff"}'],
    ['nothing', ''],
  ];
  return [
    ...texts.map(([name, text]) => ({ name, body: Buffer.from(text) })),
    { name: 'bytes that are no UTF-8', body: Buffer.from([0x7b, 0xff, 0xfe, 0xc0, 0x80, 0x7d]) },
    { name: 'all bytes', body: Buffer.from(Array.from({ length: 256 }, (_, i) => i)) },
    { name: `${String(manyBytes)} bytes`, body: Buffer.alloc(manyBytes, '[') },
  ];
}
