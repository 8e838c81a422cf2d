/** The connection to the broker is gone: no sensor can be heard. */
import { atLeast } from '../../engine/conditions.ts';
import { clock, minutes, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, nothingFound } from '../../engine/rule.ts';

export const brokerAway = defineRule({
  id: 'broker-away',
  on: 'server',
  title: 'Broker can’t be reached',
  about: 'The server has no connection to its MQTT broker.',
  urgency: 'today',
  holdMin: 0,
  clearHoldMin: 2,
  limits: { forMin: limit(10, [1, 1440], 'min', 'Minutes without a connection from which the alert comes') },
  sources: ['the connection itself'],
  evaluate({ brokerAwaySinceMs: since, nowMs }, { forMin }) {
    if (since === null) return nothingFound(atLeast('Away for', 0, forMin, 'min'));
    const away = (nowMs - since) / 60_000;
    return decide({
      conditions: [atLeast('Away for', away, forMin, 'min')],
      clear: () => false,
      message: () => ({
        todo: say`Start the broker again, or check its address, user and password in the settings.`,
        seen: say`No connection since ${clock(since)}; it is tried again all the time.`,
        why: say`Until it is back nothing is heard from any sensor.`,
        howSure: say`Certain.`,
        facts: [{ name: 'Away for', ...minutes(away) }],
      }),
    });
  },
});
