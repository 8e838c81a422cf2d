/** The alert's life cycle as a full table: every state against every input, "nothing happens" included. */
import { describe, expect, it } from 'vitest';
import type { AlertState, LifeCycleInput, Tick } from '../../server/rules/engine/alert-state.ts';
import { episodeOf, isOpen, nextChangeAtMs, quietAlert } from '../../server/rules/engine/alert-state.ts';
import { stepAlert } from '../../server/rules/engine/life-cycle.ts';
import { afterOutage } from '../../server/rules/engine/outage.ts';
import { say } from '../../server/words/phrase.ts';
import type { Subject } from '../../server/rules/engine/types.ts';

const min = 60_000;
const subject: Subject = { kind: 'nuc', id: 'n1', name: 'Nuc 1' };
const message = { todo: say`a`, seen: say`b`, why: say`c`, howSure: say`d`, facts: [] };
const t0 = 1_000_000_000_000;
const now = t0 + 60 * min;

const tick = (verdict: Tick['verdict'], over: Partial<Tick> = {}): Tick => ({
  type: 'tick',
  nowMs: now,
  verdict,
  clear: false,
  holdMs: 30 * min,
  clearHoldMs: 20 * min,
  closedStandsMs: 180 * min,
  urgency: 'today',
  ...(verdict === 'yes' && { message }),
  ...over,
});

const alert = quietAlert('r/nuc/n1', 'r', subject);
const episode = {
  id: `r/nuc/n1/${String(t0)}`,
  sinceMs: t0,
  raisedAtMs: t0 + 30 * min,
  urgency: 'today' as const,
  message,
  seen: null,
  putOffUntilMs: null,
  marks: [],
};
const at = (phase: AlertState['at']): AlertState => ({ ...alert, at: phase });

const states = {
  quiet: alert,
  'holding, 29 min': at({ phase: 'holding', sinceMs: now - 29 * min, unobservedMs: 0 }),
  'holding, 30 min': at({ phase: 'holding', sinceMs: now - 30 * min, unobservedMs: 0 }),
  'holding, 40 min, 15 away': at({ phase: 'holding', sinceMs: now - 40 * min, unobservedMs: 15 * min }),
  raised: at({ phase: 'raised', episode }),
  'raised, put off until later': at({ phase: 'raised', episode: { ...episode, putOffUntilMs: now + 1 } }),
  'raised, put off until now': at({ phase: 'raised', episode: { ...episode, putOffUntilMs: now } }),
  'clearing, 19 min': at({ phase: 'clearing', episode, clearSinceMs: now - 19 * min, unobservedMs: 0 }),
  'clearing, 20 min': at({ phase: 'clearing', episode, clearSinceMs: now - 20 * min, unobservedMs: 0 }),
  cleared: at({ phase: 'cleared', episode, clearedAtMs: now - min }),
  'closed lately': at({ phase: 'closed', episode, closedAtMs: now - 179 * min }),
  'closed long ago': at({ phase: 'closed', episode, closedAtMs: now - 180 * min }),
  'no data over quiet': at({ phase: 'no-data', noDataSinceMs: now - 5 * min, paused: { phase: 'quiet' } }),
  'no data over holding, short': at({
    phase: 'no-data',
    noDataSinceMs: now - 5 * min,
    paused: { phase: 'holding', sinceMs: now - 36 * min, unobservedMs: 0 },
  }),
  'no data over holding, long': at({
    phase: 'no-data',
    noDataSinceMs: now - 31 * min,
    paused: { phase: 'holding', sinceMs: now - 60 * min, unobservedMs: 0 },
  }),
  'no data over holding, as long as the hold': at({
    phase: 'no-data',
    noDataSinceMs: now - 30 * min,
    paused: { phase: 'holding', sinceMs: now - 61 * min, unobservedMs: 0 },
  }),
  'no data over raised': at({
    phase: 'no-data',
    noDataSinceMs: now - 500 * min,
    paused: { phase: 'raised', episode },
  }),
  'no data over clearing': at({
    phase: 'no-data',
    noDataSinceMs: now - 10 * min,
    paused: { phase: 'clearing', episode, clearSinceMs: now - 25 * min, unobservedMs: 0 },
  }),
} as const satisfies Record<string, AlertState>;
type StateName = keyof typeof states;

const inputs = {
  yes: tick('yes'),
  'yes, after 2 min away': tick('yes'),
  'yes, more pressing': tick('yes', { urgency: 'now' }),
  explained: tick('explained'),
  'no, not past the easier limit': tick('no'),
  'no, of a rule that is usually more pressing': tick('no', { urgency: 'now' }),
  'no and clear': tick('no', { clear: true }),
  'no-data': tick('no-data'),
  'not-applicable': tick('not-applicable', { clear: true }),
  seen: { type: 'seen', nowMs: now, by: 'Ann', note: 'on my way' },
  'put-off': { type: 'put-off', nowMs: now, by: 'Ann', untilMs: now + 60 * min },
  'put-off into the past': { type: 'put-off', nowMs: now, by: 'Ann', untilMs: now },
  close: { type: 'close', nowMs: now, by: 'Ann', found: 'lid was off' },
  reopen: { type: 'reopen', nowMs: now, by: 'Ann' },
} as const satisfies Record<string, LifeCycleInput>;
type InputName = keyof typeof inputs;

type Row = Record<InputName, string>;
const same = '=';
/** By input the next phase, then the effect if any. An input that is not named leaves the very same alert. */
const table: Record<StateName, Row> = {
  quiet: row({
    yes: 'holding',
    'yes, after 2 min away': 'holding',
    'yes, more pressing': 'holding',
    'no-data': 'no-data',
  }),
  'holding, 29 min': row({
    'yes, after 2 min away': 'holding',
    explained: 'quiet',
    'no, not past the easier limit': 'quiet',
    'no, of a rule that is usually more pressing': 'quiet',
    'no and clear': 'quiet',
    'no-data': 'no-data',
    'not-applicable': 'quiet',
  }),
  'holding, 30 min': row({
    yes: 'raised raised',
    'yes, after 2 min away': 'holding',
    'yes, more pressing': 'raised raised',
    explained: 'quiet',
    'no, not past the easier limit': 'quiet',
    'no, of a rule that is usually more pressing': 'quiet',
    'no and clear': 'quiet',
    'no-data': 'no-data',
    'not-applicable': 'quiet',
  }),
  'holding, 40 min, 15 away': row({
    'yes, after 2 min away': 'holding',
    explained: 'quiet',
    'no, not past the easier limit': 'quiet',
    'no, of a rule that is usually more pressing': 'quiet',
    'no and clear': 'quiet',
    'no-data': 'no-data',
    'not-applicable': 'quiet',
  }),
  raised: row({
    'yes, more pressing': 'raised worsened',
    'no and clear': 'clearing',
    'no-data': 'no-data',
    'not-applicable': 'cleared no-longer-applies',
    seen: 'raised seen',
    'put-off': 'raised put-off',
    close: 'closed closed',
  }),
  'raised, put off until later': row({
    'yes, more pressing': 'raised worsened',
    'no and clear': 'clearing',
    'no-data': 'no-data',
    'not-applicable': 'cleared no-longer-applies',
    seen: 'raised seen',
    'put-off': 'raised put-off',
    close: 'closed closed',
  }),
  'raised, put off until now': row({
    yes: 'raised put-off-over',
    'yes, after 2 min away': 'raised put-off-over',
    'yes, more pressing': 'raised worsened',
    explained: 'raised put-off-over',
    'no, not past the easier limit': 'raised put-off-over',
    'no, of a rule that is usually more pressing': 'raised put-off-over',
    'no and clear': 'clearing',
    'no-data': 'no-data',
    'not-applicable': 'cleared no-longer-applies',
    seen: 'raised seen',
    'put-off': 'raised put-off',
    close: 'closed closed',
  }),
  'clearing, 19 min': row({
    yes: 'raised',
    'yes, after 2 min away': 'raised',
    'yes, more pressing': 'raised worsened',
    explained: 'raised',
    'no, not past the easier limit': 'raised',
    'no, of a rule that is usually more pressing': 'raised',
    'no-data': 'no-data',
    'not-applicable': 'cleared no-longer-applies',
    seen: 'clearing seen',
    'put-off': 'clearing put-off',
    close: 'closed closed',
  }),
  'clearing, 20 min': row({
    yes: 'raised',
    'yes, after 2 min away': 'raised',
    'yes, more pressing': 'raised worsened',
    explained: 'raised',
    'no, not past the easier limit': 'raised',
    'no, of a rule that is usually more pressing': 'raised',
    'no and clear': 'cleared cleared',
    'no-data': 'no-data',
    'not-applicable': 'cleared no-longer-applies',
    seen: 'clearing seen',
    'put-off': 'clearing put-off',
    close: 'closed closed',
  }),
  cleared: row({
    yes: 'holding',
    'yes, after 2 min away': 'holding',
    'yes, more pressing': 'holding',
    'no-data': 'no-data',
    close: 'closed closed',
  }),
  'closed lately': row({
    'no and clear': 'cleared',
    'no-data': 'no-data',
    'not-applicable': 'cleared',
    reopen: 'raised re-opened',
  }),
  'closed long ago': row({
    yes: 'raised still-so',
    'yes, after 2 min away': 'raised still-so',
    'yes, more pressing': 'raised still-so',
    'no and clear': 'cleared',
    'no-data': 'no-data',
    'not-applicable': 'cleared',
    reopen: 'raised re-opened',
  }),
  'no data over quiet': row({
    yes: 'holding',
    'yes, after 2 min away': 'holding',
    'yes, more pressing': 'holding',
    explained: 'quiet',
    'no, not past the easier limit': 'quiet',
    'no, of a rule that is usually more pressing': 'quiet',
    'no and clear': 'quiet',
    'not-applicable': 'quiet',
  }),
  'no data over holding, short': row({
    yes: 'raised raised',
    'yes, after 2 min away': 'raised raised',
    'yes, more pressing': 'raised raised',
    explained: 'quiet',
    'no, not past the easier limit': 'quiet',
    'no, of a rule that is usually more pressing': 'quiet',
    'no and clear': 'quiet',
    'not-applicable': 'quiet',
  }),
  'no data over holding, long': row({
    yes: 'holding',
    'yes, after 2 min away': 'holding',
    'yes, more pressing': 'holding',
    explained: 'quiet',
    'no, not past the easier limit': 'quiet',
    'no, of a rule that is usually more pressing': 'quiet',
    'no and clear': 'quiet',
    'not-applicable': 'quiet',
  }),
  'no data over holding, as long as the hold': row({
    yes: 'raised raised',
    'yes, after 2 min away': 'raised raised',
    'yes, more pressing': 'raised raised',
    explained: 'quiet',
    'no, not past the easier limit': 'quiet',
    'no, of a rule that is usually more pressing': 'quiet',
    'no and clear': 'quiet',
    'not-applicable': 'quiet',
  }),
  'no data over raised': row({
    yes: 'raised',
    'yes, after 2 min away': 'raised',
    'yes, more pressing': 'raised worsened',
    explained: 'raised',
    'no, not past the easier limit': 'raised',
    'no, of a rule that is usually more pressing': 'raised',
    'no and clear': 'clearing',
    'not-applicable': 'cleared no-longer-applies',
    seen: 'no-data seen',
    'put-off': 'no-data put-off',
    close: 'no-data closed',
  }),
  'no data over clearing': row({
    yes: 'raised',
    'yes, after 2 min away': 'raised',
    'yes, more pressing': 'raised worsened',
    explained: 'raised',
    'no, not past the easier limit': 'raised',
    'no, of a rule that is usually more pressing': 'raised',
    'no and clear': 'clearing',
    'not-applicable': 'cleared no-longer-applies',
    seen: 'no-data seen',
    'put-off': 'no-data put-off',
    close: 'no-data closed',
  }),
};

function row(changes: Partial<Row>): Row {
  const nothing = Object.fromEntries(Object.keys(inputs).map((name) => [name, same])) as Row;
  return { ...nothing, ...changes };
}

const cases = (Object.keys(states) as StateName[]).flatMap((state) =>
  (Object.keys(inputs) as InputName[]).map((input) => ({ state, input, expected: table[state][input] })),
);

describe('every state against every input', () => {
  it.each(cases)('$state + $input → $expected', ({ state, input, expected }) => {
    const before: AlertState = states[state];
    const awayMs = input === 'yes, after 2 min away' ? 2 * min : 0;
    const { alert: after, effects } = stepAlert(afterOutage(before, awayMs), inputs[input]);
    const told = effects.map(({ kind }) => ` ${kind}`).join('');
    expect(after === before ? same : `${after.at.phase}${told}`).toBe(expected);
    if (after === before) expect(effects).toEqual([]);
    for (const effect of effects) expect(effect.episode).toBe(episodeOf(after));
  });
});

describe('instants and words that are kept', () => {
  it('raises with the instant since which it held', () => {
    const { alert: after } = stepAlert(states['holding, 30 min'], inputs.yes);
    expect(episodeOf(after)).toMatchObject({ sinceMs: now - 30 * min, raisedAtMs: now, urgency: 'today' });
    expect(isOpen(after)).toBe(true);
  });

  it('shows when a running hold will raise and when a clearing will end', () => {
    expect(nextChangeAtMs(states['holding, 40 min, 15 away'], 30 * min, 0)).toBe(now + 5 * min);
    expect(nextChangeAtMs(states['clearing, 19 min'], 0, 20 * min)).toBe(now + min);
    const unobserved = at({
      phase: 'clearing',
      episode,
      clearSinceMs: now - 19 * min,
      unobservedMs: 5 * min,
    });
    expect(nextChangeAtMs(unobserved, 0, 20 * min)).toBe(now + 6 * min);
    expect(nextChangeAtMs(states.raised, 30 * min, 20 * min)).toBeNull();
  });

  it('keeps who saw it, the note, and what was found, in order', () => {
    const seen = stepAlert(states.raised, inputs.seen).alert;
    const closed = stepAlert(seen, inputs.close).alert;
    const opened = stepAlert(closed, inputs.reopen).alert;
    expect(episodeOf(seen)?.seen).toEqual({ by: 'Ann', atMs: now, note: 'on my way' });
    expect(episodeOf(opened)?.seen).toBeNull();
    expect(episodeOf(opened)?.marks).toEqual([
      { atMs: now, by: 'Ann', what: 'seen', text: 'on my way' },
      { atMs: now, by: 'Ann', what: 'closed', text: 'lid was off' },
      { atMs: now, by: 'Ann', what: 're-opened' },
    ]);
  });

  it('asks again to be seen when it got more pressing', () => {
    const seen = stepAlert(states.raised, inputs.seen).alert;
    const worse = stepAlert(seen, inputs['yes, more pressing']).alert;
    expect(episodeOf(worse)).toMatchObject({ seen: null, urgency: 'now', putOffUntilMs: null });
  });

  it('keeps the evidence that it was raised with until there is newer', () => {
    const evidence = (limit: number) => ({
      evidence: { place: 'brood' as const, fromMs: t0, toMs: now, limit },
    });
    const raised = stepAlert(states['holding, 30 min'], tick('yes', evidence(32))).alert;
    expect(episodeOf(raised)).toMatchObject({ ...evidence(32), marks: [{ atMs: now, what: 'raised' }] });
    expect(episodeOf(raised)?.marks).toHaveLength(1);
    const worse = (over: Partial<Tick>) =>
      episodeOf(stepAlert(raised, tick('yes', { urgency: 'now', ...over })).alert);
    expect(worse({})).toMatchObject(evidence(32));
    expect(worse(evidence(30))).toMatchObject(evidence(30));
    expect(episodeOf(stepAlert(states['holding, 30 min'], inputs.yes).alert)).not.toHaveProperty('evidence');
  });

  it.each(['raised', 'clearing, 19 min'] as const)('is over with the moment that it foresaw: %s', (name) => {
    const before = states[name];
    const foreseen = {
      ...before,
      at: { ...before.at, episode: { ...episode, message: { ...message, untilMs: now } } },
    };
    const { alert: after, effects } = stepAlert(foreseen, tick('no'));
    expect(after.at.phase).toBe('cleared');
    expect(effects.map(({ kind }) => kind)).toEqual(['no-longer-applies']);
  });

  it('takes a changed hold at the next evaluation', () => {
    const shorter = tick('yes', { holdMs: 29 * min });
    expect(stepAlert(states['holding, 29 min'], shorter).alert.at.phase).toBe('raised');
    const longer = tick('yes', { holdMs: 31 * min });
    expect(stepAlert(states['holding, 30 min'], longer).alert.at.phase).toBe('holding');
  });
});
