import fc from 'fast-check';
import { expect, it } from 'vitest';
import { isNestedTooDeep, mostNested, parseJson } from '../../server/json-text.ts';

const depthOf = (value: unknown): number =>
  typeof value === 'object' && value !== null ? 1 + Math.max(0, ...Object.values(value).map(depthOf)) : 0;

it('judges the depth of any JSON as a walk through it does', () => {
  const brackets = fc.string({ unit: fc.constantFrom('[', ']', '{', '}', '"', '\\', 'a') });
  fc.assert(
    fc.property(fc.nat(70), fc.jsonValue({ depthSize: 'large' }), brackets, (more, inside, text) => {
      let value: unknown = [inside, text, { [text]: text }];
      for (let i = 0; i < more; i += 1) value = i % 2 === 0 ? [text, value] : { [text]: value };
      const json = JSON.stringify(value);
      expect(isNestedTooDeep(json)).toBe(depthOf(value) > mostNested);
    }),
  );
});

it('parses 64 levels and refuses 65', () => {
  const nested = (depth: number): string => '['.repeat(depth) + ']'.repeat(depth);
  expect(parseJson(nested(64))).toMatchObject({ ok: true });
  expect(parseJson(nested(65))).toEqual({ ok: false, why: 'nested' });
  expect(parseJson('[')).toEqual({ ok: false, why: 'not JSON' });
});
