/** Much of what a sensor sends can't be true. */
import { atLeast } from '../../engine/conditions.ts';
import { percent, plain, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';
import { setTheClock } from './set-the-clock.ts';

/** Method: with so much of it left out next to nothing is left, per cent. */
const mostPct = 50;

export const sensorImplausible = defineRule({
  id: 'sensor-implausible',
  on: 'channel',
  title: 'Sensor sends what can’t be',
  about: 'A good part of a sensor’s readings is outside of its range, jumps, or is a known error value.',
  urgency: 'next-visit',
  holdMin: 15,
  clearHoldMin: 360,
  limits: {
    sharePct: limit(5, [1, 100], '%', 'Share of the last day’s readings that are suspect'),
    easierPct: limit(2, [0, 100], '%', 'Share under which it clears'),
    atLeast: limit(5, [1, 1000], '', 'And never fewer than this many'),
  },
  sources: ['makers’ data sheets for the error values; the share is ours'],
  evaluate({ channel, nowMs }, { sharePct, easierPct, atLeast: least }) {
    const { suspects24h, readings24h, wrongClocks24h = 0, channelId } = channel;
    if (channel.place === null) return notApplicable('this sensor stands nowhere');
    if (readings24h === 0) return noData('no reading in the last day');
    const share = (suspects24h / readings24h) * 100;
    const isClock = wrongClocks24h > suspects24h / 2;
    return decide({
      conditions: [
        atLeast('Share of suspect readings', share, sharePct, '%'),
        atLeast('Suspect readings of the last day', suspects24h, least, ''),
      ],
      clear: () => share < easierPct,
      // A clock that is ahead leaves nothing to go by, as a sensor that is silent does.
      ...(isClock && share >= mostPct && { urgency: 'today' as const }),
      message: () => ({
        todo: isClock
          ? setTheClock
          : say`Check plug and cable at the next visit; water in a plug or a weak supply does this.`,
        seen: isClock
          ? say`${plain(wrongClocks24h)} of the last day’s ${plain(readings24h)} readings carry a time that can’t be: one in the future, or of a clock that was never set.`
          : say`${plain(suspects24h)} of the last day’s ${plain(readings24h)} readings can’t be true.`,
        why: say`They are kept and left out; what is left may be too little to warn you.`,
        howSure: say`${percent(share / 100)} of its readings are flagged; the Sensors page shows each with its reason.`,
        facts: [{ name: 'Suspect', ...percent(share / 100) }],
      }),
      evidence: { channelId, fromMs: nowMs - 86_400_000, toMs: nowMs },
    });
  },
});
