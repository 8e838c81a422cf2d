/** Sentences on pages: short, with dates as people say them, without the vocabulary of statistics. */
import { describe, expect, it } from 'vitest';
import { allSentences, faultsOf } from './collect.ts';

/** Rooms that are still to be mended, with how many sentences in each; the number only falls. */
const left: Readonly<Record<string, number>> = {
  'server/introduction': 6,
  'server/rules': 13,
  'server/signals': 1,
  'server/farm': 1,
};
const roomOf = (file: string): string =>
  file
    .split('/')
    .slice(0, file.startsWith('server') ? 2 : 1)
    .join('/');

describe('the sentences that people read', () => {
  const all = allSentences();
  const faulty = all.filter(({ faults }) => faults.length > 0);

  it('are found in every room', () => {
    expect(all.length).toBeGreaterThan(1000);
    expect(new Set(all.map(({ file }) => roomOf(file))).size).toBeGreaterThanOrEqual(8);
  });

  it('have no fault outside the rooms that are still to be mended', () => {
    const others = faulty.filter(({ file }) => left[roomOf(file)] === undefined);
    expect(
      others.map(({ file, line, faults, text }) => `${file}:${String(line)} ${faults.join()}: ${text}`),
    ).toEqual([]);
  });

  it.each(Object.entries(left))('%s has no more than %d to be mended', (room, most) => {
    const found = faulty.filter(({ file }) => roomOf(file) === room);
    expect(found.length, found.map(({ text }) => text).join('\n')).toBeLessThanOrEqual(most);
  });
});

it.each([
  ['Cut the cells as planned on Fri 28 May.', []],
  ['Since 2031-05-10 the brood is cold.', ['an ISO date']],
  ['The median of the days is 34 °C.', ['“\\bmedians?\\b”']],
  [`${'word '.repeat(26)}end.`, ['27 words']],
])('of “%s” the faults are %j', (text, faults) => {
  expect(faultsOf(text)).toEqual(faults);
});
