/** The outside probe does not read the air outside: it stands in a house or a hive, or in the sun. */
import { dayMs } from '../../../durations.ts';
import { atLeast, atMost } from '../../engine/conditions.ts';
import { degC, plain, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, nothingFound, notApplicable } from '../../engine/rule.ts';

export const outsideMisplaced = defineRule({
  id: 'outside-misplaced',
  on: 'channel',
  title: 'Outside probe badly placed',
  about:
    'The outside probe hardly moves for five days, as indoors or in a hive, or is as hot as only the sun makes it.',
  urgency: 'next-visit',
  // One that was hung out an hour ago has not seen a night yet.
  holdMin: 720,
  clearHoldMin: 60,
  limits: {
    rangeK: limit(4, [1, 10], 'K', 'What it moves by in five days, at most'),
    sunC: limit(45, [35, 60], '°C', 'Hotter than the air in the shade'),
    sunDays: limit(3, [1, 5], 'd', 'Days of the last five on which it is so hot'),
  },
  sources: [
    'open series of Sydney and Montreal: in any five days the air outside moved by 6 K or more; the heat is common practice',
  ],
  evaluate({ channel, nowMs }, { rangeK, sunC, sunDays }) {
    const { quantity, place, outsideDays, channelId } = channel;
    if (quantity !== 'temperature' || place !== 'outside') return notApplicable('it is no outside probe');
    if (!outsideDays) return noData('it has not been read for five full days');
    const lowC = Math.min(...outsideDays.map((day) => day.lowC));
    const highC = Math.max(...outsideDays.map((day) => day.highC));
    const hot = outsideDays.filter((day) => day.highC >= sunC).length;
    const still = atMost('What it moved by in five days', highC - lowC, rangeK, 'K');
    const sun = atLeast('Days on which it was hotter than any air', hot, sunDays, 'd');
    if (!still.met && !sun.met) return nothingFound(still, sun);
    return decide({
      conditions: [still.met ? still : sun],
      clear: () => false,
      message: () => ({
        todo: say`Hang it out of doors by the hives, in the shade, where the wind reaches it.`,
        seen: still.met
          ? say`In five days it read nothing but ${degC(lowC)} to ${degC(highC)}.`
          : say`On ${plain(hot)} of the last days it read ${degC(sunC)} or more.`,
        why: say`Whether bees fly, and how cold the night gets, is worked out from it.`,
        howSure: still.met
          ? say`The air outside moves by more in any five days. A room does not, nor the inside of a hive.`
          : say`The air in the shade is hardly ever as hot. A probe in the sun is.`,
        facts: [],
      }),
      evidence: { channelId, fromMs: nowMs - 5 * dayMs, toMs: nowMs },
    });
  },
});
