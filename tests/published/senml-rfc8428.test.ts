/**
 * SenML: the worked examples of RFC 8428 §5.1 (JSON) and their resolved form as §5.1.4 and the editors' repository
 * (core-wg/senml-spec) give them, and the rules of §4.
 */
import { expect, test } from 'vitest';
import { resolveSenml, type SenmlRecord } from '../../ingest/decode/senml.ts';

const nowS = 1_320_067_500;

function resolved(pack: unknown): readonly SenmlRecord[] {
  const result = resolveSenml(pack, nowS);
  if (!result.ok) throw new Error(result.reason);
  return result.value;
}
const plain = (records: readonly SenmlRecord[]) =>
  records.map(({ name, unit, value, timeS }) => [name, unit, value, Math.round(timeS * 1000) / 1000]);

test('§5.1.1 single datapoint: no time means now', () => {
  expect(plain(resolved([{ n: 'urn:dev:ow:10e2073a01080063', u: 'Cel', v: 23.1 }]))).toEqual([
    ['urn:dev:ow:10e2073a01080063', 'Cel', 23.1, nowS],
  ]);
});

test('§5.1.2 multiple datapoints: base name, time and unit; an older version is stated in each record', () => {
  const pack = [
    {
      bn: 'urn:dev:ow:10e2073a0108006:',
      bt: 1.276020076001e9,
      bu: 'A',
      bver: 5,
      n: 'voltage',
      u: 'V',
      v: 120.1,
    },
    { n: 'current', t: -5, v: 1.2 },
    { n: 'current', t: -4, v: 1.3 },
    { n: 'current', t: -3, v: 1.4 },
    { n: 'current', t: -2, v: 1.5 },
    { n: 'current', t: -1, v: 1.6 },
    { n: 'current', v: 1.7 },
  ];
  const name = 'urn:dev:ow:10e2073a0108006:';
  const records = resolved(pack);
  // §4.6: in chronological order, which moves the voltage behind the older currents.
  expect(plain(records)).toEqual([
    [`${name}current`, 'A', 1.2, 1276020071.001],
    [`${name}current`, 'A', 1.3, 1276020072.001],
    [`${name}current`, 'A', 1.4, 1276020073.001],
    [`${name}current`, 'A', 1.5, 1276020074.001],
    [`${name}current`, 'A', 1.6, 1276020075.001],
    [`${name}voltage`, 'V', 120.1, 1276020076.001],
    [`${name}current`, 'A', 1.7, 1276020076.001],
  ]);
  expect(records.every(({ version }) => version === 5)).toBe(true);
});

test('§5.1.2 the measurement with a moving position: a record’s own unit wins over the base unit', () => {
  const pack = [
    { bn: 'urn:dev:ow:10e2073a01080063', bt: 1320067464, bu: '%RH', v: 20 },
    { u: 'lon', v: 24.30621 },
    { u: 'lat', v: 60.07965 },
    { t: 60, v: 20.3 },
    { u: 'lon', t: 60, v: 24.30622 },
    { u: 'lat', t: 60, v: 60.07965 },
    { t: 120, v: 20.7 },
    { u: 'lon', t: 120, v: 24.30623 },
    { u: 'lat', t: 120, v: 60.07966 },
    { u: '%EL', t: 150, v: 98 },
    { t: 180, v: 21.2 },
    { u: 'lon', t: 180, v: 24.30628 },
    { u: 'lat', t: 180, v: 60.07967 },
  ];
  const records = resolved(pack);
  expect(records).toHaveLength(13);
  const of = (unit: string) =>
    records.filter((record) => record.unit === unit).map(({ value, timeS }) => [value, timeS]);
  expect(of('%RH')).toEqual([
    [20, 1320067464],
    [20.3, 1320067524],
    [20.7, 1320067584],
    [21.2, 1320067644],
  ]);
  expect(of('%EL')).toEqual([[98, 1320067614]]);
  expect(of('lon').at(-1)).toEqual([24.30628, 1320067644]);
});

test('§5.1.5 multiple data types: text, flag and data are values as well', () => {
  const records = resolved([
    { bn: 'urn:dev:ow:10e2073a01080063:', n: 'temp', u: 'Cel', v: 23.1 },
    { n: 'label', vs: 'Machine Room' },
    { n: 'open', vb: false },
    { n: 'nfc-reader', vd: 'aGkgCg' },
  ]);
  expect(records.map(({ value, text, flag, data }) => value ?? text ?? flag ?? data)).toEqual([
    23.1,
    'Machine Room',
    false,
    'aGkgCg',
  ]);
});

test('§5.1.6 collection of resources: a new base name leaves the base time as it is', () => {
  const records = resolved([
    { bn: '2001:db8::2/', bt: 1320078429, n: 'temperature', u: 'Cel', v: 25.2 },
    { n: 'humidity', u: '%RH', v: 30 },
    { bn: '2001:db8::1/', n: 'temperature', u: 'Cel', v: 12.3 },
    { n: 'humidity', u: '%RH', v: 67 },
  ]);
  expect(plain(records)).toEqual([
    ['2001:db8::2/temperature', 'Cel', 25.2, 1320078429],
    ['2001:db8::2/humidity', '%RH', 30, 1320078429],
    ['2001:db8::1/temperature', 'Cel', 12.3, 1320078429],
    ['2001:db8::1/humidity', '%RH', 67, 1320078429],
  ]);
});

test('§5.1.7 setting an actuator: ratio units and a fade of a tenth of a second', () => {
  const records = resolved([
    { bt: 1320078429, bu: '/', n: '2001:db8::3', v: 0.5 },
    { n: '2001:db8::4', v: 0.5 },
    { n: '2001:db8::3', t: 0.1, v: 0 },
    { n: '2001:db8::4', t: 0.1, v: 0 },
  ]);
  expect(plain(records)).toEqual([
    ['2001:db8::3', '/', 0.5, 1320078429],
    ['2001:db8::4', '/', 0.5, 1320078429],
    ['2001:db8::3', '/', 0, 1320078429.1],
    ['2001:db8::4', '/', 0, 1320078429.1],
  ]);
});

test('§4.5.3 times below 2^28 are relative to now, from 2^28 on absolute (1978-07-04T21:24:16Z)', () => {
  const at = (t: number) => resolved([{ n: 'a', v: 1, t }])[0]?.timeS;
  expect(at(-30)).toBe(nowS - 30);
  expect(at(2 ** 28 - 1)).toBe(nowS + 2 ** 28 - 1);
  expect(at(2 ** 28)).toBe(Date.parse('1978-07-04T21:24:16Z') / 1000);
});

test('§4.5.1 base value and base sum are added; a sum alone is a record', () => {
  expect(resolved([{ bn: 'a', bv: 10, bs: 100, v: 1, s: 5 }, { v: 2 }, { s: 7 }])).toMatchObject([
    { value: 11, sum: 105 },
    { value: 12, sum: 100 },
    { value: 10, sum: 107 },
  ]);
  expect(resolved([{ n: 'a', s: 3 }])).toMatchObject([{ name: 'a', sum: 3 }]);
});

test('§4.4 a label that ends in _ has to be understood; other unknown labels are passed over', () => {
  expect(resolveSenml([{ n: 'a', v: 1, foo: 2 }], nowS).ok).toBe(true);
  expect(resolveSenml([{ n: 'a', v: 1, foo_: 2 }], nowS)).toMatchObject({
    ok: false,
    reason: expect.stringContaining('foo_'),
  });
});

test.each([
  ['§4.4 a version that is not known', [{ bver: 11, n: 'a', v: 1 }]],
  ['§4.2 two values', [{ n: 'a', v: 1, vs: 'x' }]],
  ['§4.2 neither value nor sum', [{ n: 'a' }]],
  ['§4.5.1 an empty name', [{ v: 1 }]],
  ['§4.5.1 a name that begins with a sign', [{ n: '-a', v: 1 }]],
  ['§4.5.1 a character that is not allowed', [{ n: 'a b', v: 1 }]],
  ['a value of the wrong type', [{ n: 'a', v: '1' }]],
  ['not an array', { n: 'a', v: 1 }],
  ['an empty pack', []],
])('refused: %s', (_what, pack) => {
  expect(resolveSenml(pack, nowS).ok).toBe(false);
});
