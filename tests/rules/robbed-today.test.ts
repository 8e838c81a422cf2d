/** Robbing of one afternoon is told at once, also where it first looked like bees that left. */
import { expect, it } from 'vitest';
import { episodeOf, type AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import { setFor } from '../../server/words/phrase.ts';
import { minute, noon, nucInput, signals } from './made-up.ts';

const robbing = (carriedOff: boolean) => ({
  underWay: true,
  why: '1 day',
  days: [{ date: '2026-05-05', lossG: 1800, fastestGPerH: 700 }],
  ...(carriedOff && { carriedOff: true as const }),
});
const left = {
  fromMs: noon - 120 * minute,
  toMs: noon - 60 * minute,
  lossG: 400,
  lossSdG: 20,
  temperatureFollowed: false,
  moreThanFly: true as const,
  homeByMs: noon + 400 * minute,
  why: 'steep',
};

/** What is raised within two hours; bees seem to have left for the first of them, where `mistaken`. */
function told(carriedOff: boolean, mistaken = false): AlertState[] {
  let alerts: Alerts = new Map<string, AlertState>();
  for (let t = 0; t <= 120; t += 5) {
    const massDepartures = mistaken && t < 60 ? [left] : [];
    const said = t < 60 && mistaken ? signals({ massDepartures }) : signals({ robbing: robbing(carriedOff) });
    ({ alerts } = evaluateAll(
      [nucInput({ nowMs: noon + t * minute, signals: said })],
      alerts,
      noon + t * minute,
    ));
  }
  return [...alerts.values()].filter(({ at }) => at.phase === 'raised');
}

it('one day is told where it took more than bees can be, with what it took', () => {
  const [alert] = told(true);
  const episode = alert && episodeOf(alert);
  expect([alert?.ruleId, episode?.urgency]).toEqual(['being-robbed', 'today']);
  const words = setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' });
  expect(words(episode?.message.seen ?? '')).toBe(
    '1.80 kg carried off since the morning, at up to 700 g an hour.',
  );
  expect(told(false)).toEqual([]);
});

it('and within the hour also where it was taken for bees that left', () => {
  expect(told(true, true).map(({ ruleId }) => ruleId)).toEqual(['being-robbed']);
});
