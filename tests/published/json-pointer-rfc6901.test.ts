/** JSON Pointer: the table of RFC 6901 §5, its rules on arrays and escapes (§4), and syntax (§3). */
import { expect, test } from 'vitest';
import { atPointer, isPointer } from '../../ingest/decode/json-pointer.ts';

const document = {
  foo: ['bar', 'baz'],
  '': 0,
  'a/b': 1,
  'c%d': 2,
  'e^f': 3,
  'g|h': 4,
  'i\\j': 5,
  'k"l': 6,
  ' ': 7,
  'm~n': 8,
};

test.each<[string, unknown]>([
  ['', document],
  ['/foo', ['bar', 'baz']],
  ['/foo/0', 'bar'],
  ['/', 0],
  ['/a~1b', 1],
  ['/c%d', 2],
  ['/e^f', 3],
  ['/g|h', 4],
  ['/i\\j', 5],
  ['/k"l', 6],
  ['/ ', 7],
  ['/m~0n', 8],
])('§5: "%s"', (pointer, value) => {
  expect(atPointer(document, pointer)).toEqual({ ok: true, value });
});

test('§4: ~1 is decoded before ~0, so that ~01 is "~1"', () => {
  expect(atPointer({ '~1': 'right', '/': 'wrong' }, '/~01')).toEqual({ ok: true, value: 'right' });
});

test.each(['/foo/00', '/foo/01', '/foo/-', '/foo/2', '/foo/1e0', '/nothing', '/foo/0/x'])(
  '§4: "%s" leads nowhere',
  (pointer) => {
    expect(atPointer(document, pointer).ok).toBe(false);
  },
);

test.each(['foo', '/a~', '/a~2', '~'])('§3: "%s" is not a pointer', (pointer) => {
  expect(isPointer(pointer)).toBe(false);
  expect(atPointer(document, pointer).ok).toBe(false);
});

test('what every object inherits is not a member', () => {
  expect(atPointer({}, '/constructor').ok).toBe(false);
  expect(atPointer({}, '/__proto__').ok).toBe(false);
});
