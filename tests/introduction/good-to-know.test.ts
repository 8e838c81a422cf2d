/** Lines of practice beside the acts: each says what it rests on, none twice at an act, and the acts that need one have it. */
import { describe, expect, it } from 'vitest';
import { actKinds } from '../../server/introduction/acts/draft.ts';
import { goodToKnow } from '../../server/introduction/acts/good-to-know.ts';

describe.each(actKinds.map((kind) => [kind, goodToKnow(kind, 'candy-cage')] as const))(
  '%s',
  (_kind, lines) => {
    it('has lines of at most twenty words, each with a source and none twice', () => {
      expect(new Set(lines.map(({ text }) => text)).size).toBe(lines.length);
      for (const { text, source } of lines) {
        expect(text).toMatch(/\.$/);
        expect(text.split(' ').length).toBeLessThanOrEqual(20);
        expect(source.length).toBeGreaterThan(5);
      }
    });
  },
);

it.each([
  ['split', /entrance/],
  ['split', /nurse bees/],
  ['split', /roar/],
  ['split', /drift/],
  ['split', /Late in the season/],
  ['queen-arrives', /drop of water/],
  ['queen-arrives', /Attendants in or out/],
  ['hang-cage', /never on honey/],
  ['hang-cage', /sideways or slightly up/],
  ['hang-cage', /thin syrup/],
  ['hang-cage', /hard plug/],
  ['open-candy', /dead attendants/],
  ['free-queen', /day 5/],
  ['look-for-queen', /water on the ball/],
  ['look-again', /side by side/],
  ['check-sealed-brood', /Mark her now/],
  ['unite', /Laying workers/],
] as const)('%s says %s', (kind, words) => {
  expect(goodToKnow(kind, 'candy-cage').some(({ text }) => words.test(text))).toBe(true);
});

it('says nothing of candy where she is under a mesh', () => {
  const words = actKinds.flatMap((kind) => goodToKnow(kind, 'push-in-cage').map(({ text }) => text));
  expect(words.length).toBeGreaterThan(15);
  expect(words.filter((text) => /candy|plug/i.test(text))).toEqual([]);
});
