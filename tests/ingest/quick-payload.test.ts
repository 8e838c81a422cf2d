/** The quick reader of payloads beside the careful ones: where it answers, they say the same. */
import fc from 'fast-check';
import { expect, test } from 'vitest';
import { readNumber } from '../../ingest/decode/payload.ts';
import { readQuickPayload } from '../../ingest/decode/quick-payload.ts';

const quick = (text: string) => readQuickPayload(new TextEncoder().encode(text));

const decimal = fc
  .tuple(fc.integer({ min: -1e9, max: 1e9 }), fc.nat(6))
  .map(([digits, decimals]) => (digits / 10 ** decimals).toFixed(decimals));
/** Right, nearly right, and what sensors print when they have nothing. */
const number = fc.oneof(
  decimal,
  fc.double({ noNaN: true }).map(String),
  fc.stringMatching(/^[-+]?[0-9.eE]{0,20}$/),
  fc.constantFrom('null', 'nan', '-0', '-', '00', '0x1', '"21.5"', '1e3', '9007199254740993'),
);
const space = fc.constantFrom('', '', ' ', '\n');
const field = fc
  .tuple(fc.constantFrom('value', 'time', 'unit', 'Value', 'valu\\u0065', 'value '), number, space, space)
  .map(([key, told, before, after]) => `"${key}"${before}:${after}${told}`);
const payload = fc.oneof(
  number,
  fc
    .tuple(
      space,
      fc.array(field, { maxLength: 3 }),
      fc.constantFrom(',', ', ', ' ,', ';'),
      fc.constantFrom('}', '', '}}', ' } '),
    )
    .map(([before, fields, between, end]) => `${before}{${fields.join(between)}${end}`),
);

test('what it reads, JSON and decimal text read the same', () => {
  let read = 0;
  fc.assert(
    fc.property(payload, (text) => {
      const found = quick(text);
      if (!found) return;
      read += 1;
      if (text.trimStart().startsWith('{')) {
        const { value, time, ...more } = JSON.parse(text) as Record<string, unknown>;
        expect([found.value, found.time, more]).toEqual([value, time, {}]);
      } else expect(readNumber(text)).toEqual({ ok: true, value: found.value });
    }),
    { numRuns: 5000 },
  );
  expect(read).toBeGreaterThan(500);
});

test('a decimal of up to twenty digits is the nearest number that there is', () => {
  const parts = fc.tuple(fc.bigInt({ min: 1n, max: 10n ** 20n - 1n }), fc.nat(19));
  fc.assert(
    fc.property(parts, ([digits, decimals]) => {
      const text = String(digits).padStart(decimals + 1, '0');
      const told = decimals === 0 ? text : `${text.slice(0, -decimals)}.${text.slice(-decimals)}`;
      const found = quick(told);
      if (told.replace('.', '').length <= 20) expect(found?.value).toBe(Number(told));
    }),
    { numRuns: 5000 },
  );
});

test.each<[string, number, number | undefined]>([
  ['21.5', 21.5, undefined],
  ['-0.25', -0.25, undefined],
  ['{"value":12.437,"time":1780000000000}', 12.437, 1_780_000_000_000],
  ['{"time": 1780000000, "value": -3}', -3, 1_780_000_000],
  ['{ "value" : 0 }', 0, undefined],
])('%s is read', (text, value, time) => {
  expect(quick(text)).toEqual({ value, time });
});

test.each([
  '',
  '12kg',
  '1e3',
  '012',
  '12.',
  '.5',
  '{"value":"12"}',
  '{"value":1,"unit":"g"}',
  '{"value":1,"value":2}',
  '{"value":1}x',
  '[1]',
])('%j is left to the careful readers', (text) => {
  expect(quick(text)).toBeUndefined();
});
