/** Nobody was looking for a while. */
import { atLeast, atMost } from '../../engine/conditions.ts';
import { clock, minutes, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, nothingFound } from '../../engine/rule.ts';

export const serverWasDown = defineRule({
  id: 'server-was-down',
  on: 'server',
  title: 'This server was down',
  about: 'The server was not running for a while, so that nothing was watched.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 0,
  limits: {
    forMin: limit(20, [1, 1440], 'min', 'Length of a pause from which the alert comes'),
    tellForH: limit(12, [1, 168], 'h', 'How long after the pause it stands as news'),
  },
  sources: ['the server’s own last evaluation before the pause'],
  evaluate({ down, nowMs }, { forMin, tellForH }) {
    if (!down) return nothingFound(atLeast('Pause', 0, forMin, 'min'));
    const { fromMs, toMs } = down;
    const lasted = (toMs - fromMs) / 60_000;
    return decide({
      conditions: [
        atLeast('Pause', lasted, forMin, 'min'),
        atMost('Time since then', (nowMs - toMs) / 3_600_000, tellForH, 'h'),
      ],
      clear: () => true,
      message: () => ({
        todo: say`Look through Today once: what happened in the pause is evaluated now, as far as the sensors kept it.`,
        seen: say`Not running from ${clock(fromMs)} to ${clock(toMs)}, for ${minutes(lasted)}.`,
        why: say`Nothing was watched and no notification was sent in that time.`,
        howSure: say`Certain.`,
        facts: [{ name: 'Pause', ...minutes(lasted) }],
      }),
    });
  },
});
