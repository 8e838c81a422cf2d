/** A device reports on time, and what it tells is hours old: its clock is behind. */
import { holds } from '../../engine/conditions.ts';
import { clock, hours, say } from '../../../words/phrase.ts';
import { decide, defineRule, noData, nothingFound, notApplicable } from '../../engine/rule.ts';
import { setTheClock } from './set-the-clock.ts';

export const sensorClockBehind = defineRule({
  id: 'sensor-clock-behind',
  on: 'device',
  title: 'Sensor’s clock is behind',
  about: 'For hours all that a device sends carries a time of an hour ago or more.',
  urgency: 'today',
  // A device that sends its store after a silence has caught up by then.
  holdMin: 180,
  clearHoldMin: 60,
  limits: {},
  sources: ['common practice'],
  evaluate({ channels }) {
    const standing = channels.filter(({ health }) => health.place !== null);
    if (standing.length === 0) return notApplicable('this sensor stands nowhere');
    const heard = standing.filter(({ health }) => health.lastHeardMs !== null);
    if (heard.length === 0) return noData('it was never heard');
    const old = heard.flatMap(({ health: { behind, lastHeardMs } }) =>
      behind && lastHeardMs !== null ? [{ ...behind, lastHeardMs }] : [],
    );
    const [first] = old;
    const name = 'All that it sends is old';
    if (!first || old.length < heard.length) return nothingFound(holds(name, false, 'no', 'yes'));
    return decide({
      conditions: [holds(name, true, 'yes', 'yes')],
      clear: () => false,
      message: () => ({
        todo: setTheClock,
        seen: say`What came at ${clock(first.lastHeardMs)} tells of ${clock(first.tellsOfMs)}, ${hours((first.lastHeardMs - first.tellsOfMs) / 3_600_000)} before.`,
        why: say`What it measures now is taken for the past: nothing that rests on it warns you in time.`,
        howSure: say`A device that goes on sending an old store shows the same.`,
        facts: [],
      }),
    });
  },
});
