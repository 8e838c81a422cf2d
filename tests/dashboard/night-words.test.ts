/** Tonight's list beside the newest reading of the brood. */
import { expect, it } from 'vitest';
import { nightWords } from '../../dashboard/parts/night-words.ts';

const night = { lowestC: 24.1, lowC: 23, highC: 26, limitC: 32, chanceBelow: 0.97, forecast: null };
const brood = { value: 25.5, unit: '°C', time: '2027-05-01T18:00:00Z', stale: false, suspect: false };

it.each([
  ['a nuc that is too cold already is not foretold to chill', night, brood, 'is under the limit now'],
  ['a stale reading says nothing of now', night, { ...brood, stale: true }, 'will likely chill'],
  ['nor does a suspect one', night, { ...brood, suspect: true }, 'will likely chill'],
  ['warm now, cold later', night, { ...brood, value: 34.1 }, 'will likely chill'],
  ['no reading', night, undefined, 'will likely chill'],
  ['a small chance', { ...night, chanceBelow: 0.3 }, { ...brood, value: 34.1 }, 'may chill'],
])('%s', (_, ahead, now, words) => {
  expect(nightWords(ahead, now)).toBe(words);
});
