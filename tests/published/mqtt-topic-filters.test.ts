/** Topic filters: the cases of MQTT 3.1.1 and MQTT 5 §4.7 (OASIS). */
import { expect, test } from 'vitest';
import { isTopicFilter, matchTopic } from '../../ingest/decode/topic-filter.ts';

test.each<[string, string, boolean]>([
  // §4.7.1.2
  ['sport/tennis/player1/#', 'sport/tennis/player1', true],
  ['sport/tennis/player1/#', 'sport/tennis/player1/ranking', true],
  ['sport/tennis/player1/#', 'sport/tennis/player1/score/wimbledon', true],
  ['sport/tennis/player1/#', 'sport/tennis', false],
  ['sport/#', 'sport', true],
  ['#', 'anything/at/all', true],
  // §4.7.1.3
  ['sport/tennis/+', 'sport/tennis/player1', true],
  ['sport/tennis/+', 'sport/tennis/player2', true],
  ['sport/tennis/+', 'sport/tennis/player1/ranking', false],
  ['sport/+', 'sport', false],
  ['sport/+', 'sport/', true],
  ['+/+', '/finance', true],
  ['/+', '/finance', true],
  ['+', '/finance', false],
  // §4.7.2
  ['#', '$SYS/monitor/Clients', false],
  ['+/monitor/Clients', '$SYS/monitor/Clients', false],
  ['$SYS/#', '$SYS/monitor/Clients', true],
  ['$SYS/monitor/+', '$SYS/monitor/Clients', true],
  // §4.7.3: case matters, and a leading slash makes another topic
  ['ACCOUNTS', 'Accounts', false],
  ['finance', '/finance', false],
])('%s against %s: %s', (filter, topic, matches) => {
  expect(matchTopic(filter, topic) !== undefined).toBe(matches);
});

test.each(['#', '+', '+/tennis/#', 'sport/+/player1', 'sport/tennis/#', '/', 'Accounts payable'])(
  '%s is valid',
  (filter) => {
    expect(isTopicFilter(filter)).toBe(true);
  },
);

test.each(['', 'sport/tennis#', 'sport/tennis/#/ranking', 'sport+', 'a/\0/b', 'x'.repeat(65_536)])(
  'not valid (%#)',
  (filter) => {
    expect(isTopicFilter(filter)).toBe(false);
  },
);

test('a named level tells what it stood for', () => {
  expect(matchTopic('shed/+sensor/+probe/#', 'shed/left/brood/state')).toEqual(
    new Map([
      ['sensor', 'left'],
      ['probe', 'brood'],
    ]),
  );
  expect(matchTopic('+name/x', '$SYS/x')).toBeUndefined();
});
