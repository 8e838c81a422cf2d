/** The alert's life cycle as a full table: every state against every input, "nothing happens" included. */
import { describe, expect, it } from 'vitest';
import type { AlertState, LifeCycleInput, Tick } from '../../server/rules/engine/alert-state.ts';
import { episodeOf, isOpen, nextChangeAtMs, quietAlert } from '../../server/rules/engine/alert-state.ts';
import { stepAlert } from '../../server/rules/engine/life-cycle.ts';
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
  unobservedMs: 0,
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
  'yes, after 2 min away': tick('yes', { unobservedMs: 2 * min }),
  'yes, more pressing': tick('yes', { urgency: 'now' }),
  explained: tick('explained'),
  'no, not past the easier limit': tick('no'),
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

/** next phase, then the effect if any; '=' is the very same alert. */
type Row = Record<InputName, string>;
const same = '=';
const table: Record<StateName, Row> = {
  quiet: row(
    'holding',
    'holding',
    'holding',
    same,
    same,
    same,
    'no-data',
    same,
    same,
    same,
    same,
    same,
    same,
  ),
  'holding, 29 min': row(
    same,
    'holding',
    same,
    'quiet',
    'quiet',
    'quiet',
    'no-data',
    'quiet',
    same,
    same,
    same,
    same,
    same,
  ),
  'holding, 30 min': row(
    'raised raised',
    'holding',
    'raised raised',
    'quiet',
    'quiet',
    'quiet',
    'no-data',
    'quiet',
    same,
    same,
    same,
    same,
    same,
  ),
  'holding, 40 min, 15 away': row(
    same,
    'holding',
    same,
    'quiet',
    'quiet',
    'quiet',
    'no-data',
    'quiet',
    same,
    same,
    same,
    same,
    same,
  ),
  raised: row(
    same,
    same,
    'raised worsened',
    same,
    same,
    'clearing',
    'no-data',
    'cleared no-longer-applies',
    'raised seen',
    'raised put-off',
    same,
    'closed closed',
    same,
  ),
  'raised, put off until later': row(
    same,
    same,
    'raised worsened',
    same,
    same,
    'clearing',
    'no-data',
    'cleared no-longer-applies',
    'raised seen',
    'raised put-off',
    same,
    'closed closed',
    same,
  ),
  'raised, put off until now': row(
    'raised put-off-over',
    'raised put-off-over',
    'raised worsened',
    'raised put-off-over',
    'raised put-off-over',
    'clearing',
    'no-data',
    'cleared no-longer-applies',
    'raised seen',
    'raised put-off',
    same,
    'closed closed',
    same,
  ),
  'clearing, 19 min': row(
    'raised',
    'raised',
    'raised worsened',
    'raised',
    'raised',
    same,
    'no-data',
    'cleared no-longer-applies',
    'clearing seen',
    'clearing put-off',
    same,
    'closed closed',
    same,
  ),
  'clearing, 20 min': row(
    'raised',
    'raised',
    'raised worsened',
    'raised',
    'raised',
    'cleared cleared',
    'no-data',
    'cleared no-longer-applies',
    'clearing seen',
    'clearing put-off',
    same,
    'closed closed',
    same,
  ),
  cleared: row(
    'holding',
    'holding',
    'holding',
    same,
    same,
    same,
    'no-data',
    same,
    same,
    same,
    same,
    'closed closed',
    same,
  ),
  'closed lately': row(
    same,
    same,
    same,
    same,
    same,
    'cleared',
    'no-data',
    'cleared',
    same,
    same,
    same,
    same,
    'raised re-opened',
  ),
  'closed long ago': row(
    'raised still-so',
    'raised still-so',
    'raised still-so',
    same,
    same,
    'cleared',
    'no-data',
    'cleared',
    same,
    same,
    same,
    same,
    'raised re-opened',
  ),
  'no data over quiet': row(
    'holding',
    'holding',
    'holding',
    'quiet',
    'quiet',
    'quiet',
    same,
    'quiet',
    same,
    same,
    same,
    same,
    same,
  ),
  'no data over holding, short': row(
    'raised raised',
    'raised raised',
    'raised raised',
    'quiet',
    'quiet',
    'quiet',
    same,
    'quiet',
    same,
    same,
    same,
    same,
    same,
  ),
  'no data over holding, long': row(
    'holding',
    'holding',
    'holding',
    'quiet',
    'quiet',
    'quiet',
    same,
    'quiet',
    same,
    same,
    same,
    same,
    same,
  ),
  'no data over raised': row(
    'raised',
    'raised',
    'raised worsened',
    'raised',
    'raised',
    'clearing',
    same,
    'cleared no-longer-applies',
    'no-data seen',
    'no-data put-off',
    same,
    'no-data closed',
    same,
  ),
  'no data over clearing': row(
    'raised',
    'raised',
    'raised worsened',
    'raised',
    'raised',
    'clearing',
    same,
    'cleared no-longer-applies',
    'no-data seen',
    'no-data put-off',
    same,
    'no-data closed',
    same,
  ),
};

function row(...cells: string[]): Row {
  const names = Object.keys(inputs) as InputName[];
  if (cells.length !== names.length) throw new Error('a row has one cell an input');
  return Object.fromEntries(names.map((name, i) => [name, cells[i]!])) as Row;
}

const cases = (Object.keys(states) as StateName[]).flatMap((state) =>
  (Object.keys(inputs) as InputName[]).map((input) => ({ state, input, expected: table[state][input] })),
);

describe('every state against every input', () => {
  it.each(cases)('$state + $input → $expected', ({ state, input, expected }) => {
    const before: AlertState = states[state];
    const { alert: after, effects } = stepAlert(before, inputs[input]);
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

  it('takes a changed hold at the next look', () => {
    const shorter = tick('yes', { holdMs: 29 * min });
    expect(stepAlert(states['holding, 29 min'], shorter).alert.at.phase).toBe('raised');
    const longer = tick('yes', { holdMs: 31 * min });
    expect(stepAlert(states['holding, 30 min'], longer).alert.at.phase).toBe('holding');
  });
});
