/** A keeper with quiet hours is not left asleep over a night that will probably chill the brood. */
import { describe, expect, it } from 'vitest';
import { chillingTonight } from '../../server/rules/catalogue/temperature/chilling-tonight.ts';
import type { Episode } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import { decideOnEffect } from '../../server/notify/decide.ts';
import { recipient } from '../notify/made-up.ts';
import { hour, minute, noon, nucInput, signals } from './made-up.ts';

const quietHours = { from: '22:00', to: '06:00', timeZone: 'Europe/Berlin' };
const dusk = noon + 9 * hour;

/** From `fromMs` on the night's chance is nine in ten; what is raised, and when its message goes out. */
function toldFrom(fromMs: number) {
  let alerts: Alerts = new Map();
  const sent: (Episode & { readonly atMs: number; readonly notBeforeMs: number })[] = [];
  for (let nowMs = noon; nowMs < noon + 16 * hour; nowMs += 10 * minute) {
    const outlook = { ...signals().outlook, chanceBelow: nowMs < fromMs ? 0.1 : 0.9 };
    const one = nucInput({ nowMs, signals: signals({ outlook }) });
    const next = evaluateAll([one], alerts, nowMs, { rules: [chillingTonight] });
    alerts = next.alerts;
    for (const { kind, episode } of next.effects) {
      const decision = decideOnEffect(recipient({ quietHours }), kind, episode, [], nowMs);
      if (decision.send) sent.push({ atMs: nowMs, ...episode, notBeforeMs: decision.notBeforeMs });
    }
  }
  return sent;
}

describe('a chill of the night ahead', () => {
  it('that is seen only once it is dark is sent through the quiet hours', () => {
    const sent = toldFrom(noon + 13 * hour);
    expect(sent).toHaveLength(1);
    expect(sent[0]).toMatchObject({ urgency: 'now' });
    expect((sent[0]?.notBeforeMs ?? Infinity) - (noon + 13 * hour)).toBeLessThan(hour);
  });
  it('that is seen by day is told for the evening, and once more when it is dark', () => {
    const sent = toldFrom(noon + 2 * hour);
    expect(sent.map(({ urgency }) => urgency)).toEqual(['today', 'now']);
    expect(sent[1]?.atMs).toBeGreaterThanOrEqual(dusk);
    expect(sent[1]?.atMs).toBeLessThan(dusk + hour);
  });
});
