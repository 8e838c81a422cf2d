/** What is foreseen ends with its moment; what comes and goes is not raised anew within hours. */
import { describe, expect, it } from 'vitest';
import { isOpen, type AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll } from '../../server/rules/engine/evaluate.ts';
import { decide, defineRule, type Rule } from '../../server/rules/engine/rule.ts';
import { holds } from '../../server/rules/engine/conditions.ts';
import type { Urgency } from '../../server/rules/engine/types.ts';
import { say } from '../../server/words/phrase.ts';
import { hour, minute, noon, nucInput } from './made-up.ts';

interface Now {
  readonly met: boolean;
  /** What was foreseen is there. */
  readonly came?: boolean;
  readonly urgency?: Urgency;
  readonly untilMs?: number;
}

const words = say`Look.`;
const ruleThatFinds = (now: () => Now): Rule =>
  defineRule({
    id: 'made-up',
    on: 'nuc',
    title: 'Made up',
    about: 'Made up.',
    urgency: 'today',
    holdMin: 0,
    clearHoldMin: 0,
    quietMin: 120,
    limits: {},
    sources: ['made up'],
    evaluate: () => {
      const { met, came, urgency, untilMs } = now();
      const seen = say`${came ? 'came' : 'ahead'}`;
      const until = untilMs === undefined ? {} : { untilMs };
      const message = { todo: words, seen, why: words, howSure: words, facts: [], ...until };
      if (came) return { verdict: 'no', clear: false, conditions: [], message };
      return decide({
        conditions: [holds('made up', met, 'yes', 'yes')],
        clear: () => true,
        message: () => message,
        ...(urgency && { urgency }),
      });
    },
  });

function watching() {
  let now: Now = { met: false };
  let alerts: ReadonlyMap<string, AlertState> = new Map<string, AlertState>();
  const rules = [ruleThatFinds(() => now)];
  return (atMs: number, next: Now) => {
    now = next;
    const result = evaluateAll([nucInput({ nowMs: atMs })], alerts, atMs, { rules });
    alerts = result.alerts;
    const [alert] = [...alerts.values()];
    return {
      effects: result.effects.map(({ kind }) => kind),
      open: alert !== undefined && isOpen(alert),
      because: result.suppressed.map(({ reason }) => reason),
      alert,
    };
  };
}

describe('what comes and goes', () => {
  it('is not raised anew within its quiet time, with the reason, and is after it', () => {
    const at = watching();
    expect(at(noon, { met: true }).effects).toEqual(['raised']);
    expect(at(noon + hour, { met: false }).effects).toEqual(['cleared']);
    expect(at(noon + 3 * hour - minute, { met: true })).toMatchObject({
      effects: [],
      open: false,
      because: ['the alert came some hours ago, and it is no worse'],
    });
    expect(at(noon + 3 * hour, { met: true }).effects).toEqual(['raised']);
  });

  it('is raised anew at once where it is more pressing', () => {
    const at = watching();
    at(noon, { met: true });
    at(noon + hour, { met: false });
    expect(at(noon + 2 * hour, { met: true, urgency: 'now' }).effects).toEqual(['raised']);
  });
});

describe('what is foreseen', () => {
  const untilMs = noon + hour;
  it('is over once its moment has passed, without a reading too', () => {
    const at = watching();
    at(noon, { met: true, untilMs });
    expect(at(untilMs, { met: false }).effects).toEqual(['no-longer-applies']);
  });

  it('says the next moment, as the same alert, while it is still foreseen', () => {
    const at = watching();
    at(noon, { met: true, untilMs });
    const { effects, open, alert } = at(untilMs, { met: true, untilMs: untilMs + hour });
    expect({ effects, open }).toEqual({ effects: [], open: true });
    expect(alert).toMatchObject({ at: { episode: { message: { untilMs: untilMs + hour } } } });
  });

  it('stays when it has come, with new words, and nobody is told anew', () => {
    const at = watching();
    at(noon, { met: true, urgency: 'now', untilMs });
    const come = at(untilMs, { met: false, came: true, untilMs: untilMs + 2 * hour });
    expect(come).toMatchObject({ effects: [], open: true });
    expect(come.alert).toMatchObject({
      at: { episode: { urgency: 'now', cameAtMs: untilMs, message: { seen: ['came'] } } },
    });
    // While it lasts its moment is put off; after that it ends.
    expect(at(untilMs + 2 * hour, { met: false, came: true, untilMs: untilMs + 4 * hour }).open).toBe(true);
    expect(at(untilMs + 4 * hour - minute, { met: false }).effects).toEqual(['cleared']);
  });

  it('is quiet from when it came, not from its end', () => {
    const at = watching();
    at(noon, { met: true, untilMs });
    at(noon + hour / 2, { met: false, came: true, untilMs: untilMs + hour });
    expect(at(noon + 2 * hour, { met: false }).effects).toEqual(['no-longer-applies']);
    expect(at(noon + 2.5 * hour - minute, { met: true }).effects).toEqual([]);
    expect(at(noon + 2.5 * hour, { met: true }).effects).toEqual(['raised']);
  });

  it('says what is ahead again when it went and is foreseen anew', () => {
    const at = watching();
    at(noon, { met: true, untilMs });
    at(noon + hour / 2, { met: false, came: true, untilMs: untilMs + hour });
    const again = at(noon + hour, { met: true, untilMs: untilMs + hour });
    expect(again.effects).toEqual([]);
    expect(again.alert?.at).not.toHaveProperty('episode.cameAtMs');
    expect(again.alert).toMatchObject({
      at: { episode: { message: { seen: ['ahead'] } } },
    });
  });

  it('that nobody was told of is not told when it comes', () => {
    const at = watching();
    expect(at(noon, { met: false, came: true, untilMs })).toMatchObject({ effects: [], open: false });
  });
});
