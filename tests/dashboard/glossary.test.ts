import { describe, expect, it } from 'vitest';
import { firstTerm, glossary, sourceOf } from '../../dashboard/words/glossary.ts';
import type { Word } from '../../dashboard/words/glossary.ts';

describe('words of the trade in a sentence', () => {
  it.each([
    ['Two frames of sealed brood and the caged queen depend on it.', 'sealed brood'],
    ['A virgin may be out.', 'virgin'],
    ['Hopelessly queenless since day 9.', 'hopelessly queenless'],
    ['9 queen cells were cut.', 'queen cell'],
  ])('%s explains %s', (sentence, word) => {
    const found = firstTerm(sentence);
    expect(found?.word).toBe(word);
    expect(`${found?.before ?? ''}${found?.shown ?? ''}${found?.after ?? ''}`).toBe(sentence);
  });
  it.each(['The chance that a cell still stands is 11 %.', 'Virginia is no queen.', ''])(
    '%s has none that means only that',
    (sentence) => {
      expect(firstTerm(sentence)).toBeUndefined();
    },
  );
  it('each has a source', () => {
    for (const word of Object.keys(glossary) as Word[]) expect(sourceOf(word)).toMatch(/\w/);
  });
});
