/** What an alert says first, and what comes after it. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { firstSentence, headAndRest, notYet } from '../../dashboard/format/sentences.ts';

it('says why an act has to wait as part of a sentence', () => {
  expect(notYet('Not in this weather')).toBe('not yet: not in this weather');
});

describe('the head of a text', () => {
  it.each([
    ['Warm it now: insulate the lid.', 'Warm it now', 'Insulate the lid.'],
    ['Feed the nuc. Use syrup.', 'Feed the nuc', 'Use syrup.'],
    [
      'Insulate the lid and narrow the entrance, add nurse bees if you have any at all.',
      'Insulate the lid and narrow the entrance',
      'Add nurse bees if you have any at all.',
    ],
    // What only says when is no heading.
    [
      'Before the evening: insulate the box well and narrow its entrance to a bee, or move it.',
      'Before the evening: insulate the box well and narrow its entrance to a bee, or move it',
      '',
    ],
    ['Look at it', 'Look at it', ''],
    ['', '', ''],
  ])('of “%s” is “%s”', (text, head, rest) => {
    expect(headAndRest(text)).toEqual({ head, rest });
  });

  it('loses no word, whatever the text is', () => {
    const words = (text: string): string[] =>
      text
        .toLocaleLowerCase()
        .split(/[\s.!?:;,]+/)
        .filter(Boolean);
    fc.assert(
      fc.property(
        fc.array(fc.constantFrom('warm', 'it', 'now', 'lid', ':', ', ', '. ', '; ', ' ')),
        (parts) => {
          const text = parts.join(' ');
          const { head, rest } = headAndRest(text);
          expect(words(`${head} ${rest}`)).toEqual(words(text));
        },
      ),
    );
  });
});

it('a first sentence does not end within a number', () => {
  expect(firstSentence('Sealed brood at 29.3 °C, under 32.0 °C. It falls.')).toBe(
    'Sealed brood at 29.3 °C, under 32.0 °C.',
  );
  expect(firstSentence('No end')).toBe('No end');
});
