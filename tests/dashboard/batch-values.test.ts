import { describe, expect, it } from 'vitest';
import { levelsOf } from '../../dashboard/review/values.ts';
import { nightsInWords } from '../../dashboard/rail/words.ts';

describe('the levels at the side of a batch', () => {
  it.each([
    [31, 35.5, ['31.0', '33.3', '35.5']],
    [34.4, 34.5, ['34.40', '34.45', '34.50']],
    [12.31, 12.66, ['12.31', '12.48', '12.66']],
    [34.4, 34.4, ['34.4']],
  ])('from %d to %d are told apart', (low, high, words) => {
    expect(levelsOf(low, high).map((one) => one.words)).toEqual(words);
  });
});

describe('the weight at night beside its line', () => {
  const metric = { temperature: 'C', weight: 'kg' } as const;
  it('has a change only since an earlier night', () => {
    expect(nightsInWords([{ kg: 12.4 }], metric)).toBe('12.40 kg');
    expect(nightsInWords([{ kg: 12.4 }, { kg: 12.1 }], metric)).toBe(
      '12.10 kg, −0.30 kg since the first night',
    );
    expect(nightsInWords([], metric)).toBe('');
  });
});
