/** Tonight's list beside the newest reading of the brood. */
import { expect, it } from 'vitest';
import { nightWords } from '../../dashboard/today/night-words.ts';

const night = { lowestC: 24.1, lowC: 23, highC: 26, limitC: 32, chanceBelow: 0.97, forecast: null };
const brood = { value: 25.5, unit: '°C', time: '2027-05-01T18:00:00Z', stale: false, suspect: false };

it.each([
  {
    what: 'a nuc that is too cold already is not foretold to chill',
    ahead: night,
    now: brood,
    words: 'is under the limit now',
  },
  {
    what: 'a stale reading says nothing of now',
    ahead: night,
    now: { ...brood, stale: true },
    words: 'will likely chill',
  },
  {
    what: 'nor does a suspect one',
    ahead: night,
    now: { ...brood, suspect: true },
    words: 'will likely chill',
  },
  { what: 'warm now, cold later', ahead: night, now: { ...brood, value: 34.1 }, words: 'will likely chill' },
  { what: 'no reading', ahead: night, now: undefined, words: 'will likely chill' },
  {
    what: 'a small chance',
    ahead: { ...night, chanceBelow: 0.3 },
    now: { ...brood, value: 34.1 },
    words: 'may chill',
  },
])('$what', ({ ahead, now, words }) => {
  expect(nightWords(ahead, now)).toBe(words);
});
