/** The rules over a span of the past: which instants are evaluated, and that alerts go as they went live. */
import { describe, expect, it } from 'vitest';
import type { AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import { evaluateHistory, runHistory, type History } from '../../server/rules/engine/history.ts';
import type { NucInput, RuleInput } from '../../server/rules/engine/inputs.ts';
import { raisingsOf } from '../../server/rules/engine/replay.ts';
import { day, dose, hour, minute, noon, nucInput, nucSubject, signals, stage, step } from './made-up.ts';

/** Minutes since noon that are evaluated. */
function instants(history: Partial<History>): number[] {
  const seen: number[] = [];
  runHistory({
    fromMs: noon,
    toMs: noon + 35 * minute,
    stepMs: 10 * minute,
    ...history,
    inputsAt: (nowMs) => {
      seen.push((nowMs - noon) / minute);
      return history.inputsAt?.(nowMs) ?? [];
    },
  });
  return seen;
}
const quiet = (change: Partial<NucInput>) => (nowMs: number) => [nucInput({ ...change, nowMs })];
const coldAt = (nowMs: number, isCold: boolean): RuleInput =>
  nucInput({ nowMs, signals: signals({ doses: [dose('sealed-brood', 'cold', 32, isCold ? 29 : 34.5)] }) });

describe('the instants that are evaluated', () => {
  it('are the beginning and the whole steps after it', () => {
    expect(instants({})).toEqual([0, 10, 20, 30]);
    expect(instants({ fromMs: noon + 1 * minute, stepMs: 5 * minute })).toEqual([
      1, 5, 10, 15, 20, 25, 30, 35,
    ]);
    expect(instants({ fromMs: noon, toMs: noon - 1 })).toEqual([]);
  });

  it('are those of events, too, to the minute, and the end of the span where it is one', () => {
    const eventsMs = [noon + 3 * minute, noon + 12.5 * minute, noon + 20 * minute, noon + 34.5 * minute];
    const toMs = noon + 34.5 * minute;
    const nextEventMs = (afterMs: number): number => Math.min(...eventsMs.filter((atMs) => atMs > afterMs));
    expect(instants({ toMs, nextEventMs })).toEqual([0, 3, 10, 13, 20, 30, 34.5]);
  });

  it('are those at which the plan or the calendar goes on', () => {
    const visit = step({
      earliestMs: noon + 2 * minute,
      targetMs: noon + 4 * minute,
      latestMs: noon + 6 * minute,
    });
    expect(instants({ inputsAt: quiet({ plan: [visit] }) })).toEqual([0, 2, 4, 6, 10, 20, 30]);
    expect(instants({ inputsAt: quiet({ plan: [{ ...visit, done: true }] }) })).toEqual([0, 10, 20, 30]);
    const introduction = stage({ broodChangesAtMs: noon + 7 * minute, handsOffUntilMs: noon + 17 * minute });
    expect(instants({ inputsAt: quiet({ introduction }) })).toEqual([0, 7, 10, 17, 20, 30]);
  });

  it('are those at which a hold time or a clear time ends', () => {
    const limits = { farm: { 'brood-chilling': { holdMin: 13, clearHoldMin: 4 } }, sites: {}, nucs: {} };
    // Cold for 20 minutes: raised after 13, clear from 20 on and cleared four minutes later.
    const inputsAt = (nowMs: number) => [coldAt(nowMs, nowMs < noon + 20 * minute)];
    expect(instants({ limits, inputsAt })).toEqual([0, 10, 13, 20, 24, 30]);
    const { effects } = runHistory({
      fromMs: noon,
      toMs: noon + hour,
      stepMs: 10 * minute,
      limits,
      inputsAt,
    });
    expect(effects.map(({ kind, atMs }) => [kind, (atMs - noon) / minute])).toEqual([
      ['raised', 13],
      ['cleared', 24],
    ]);
  });
});

describe('alerts over a span of the past', () => {
  const inputsAt = (nowMs: number): RuleInput[] => [
    coldAt(
      nowMs,
      Math.floor((nowMs - noon) / hour) % 24 >= 12 && Math.floor((nowMs - noon) / hour) % 24 < 18,
    ),
  ];
  const limits = { farm: { 'brood-chilling': { clearHoldMin: 30 } }, sites: {}, nucs: {} };
  const span = { fromMs: noon, toMs: noon + 2 * day, stepMs: 10 * minute, inputsAt, limits };

  it('are those of a watch that looks every minute, within a step', () => {
    let alerts: Alerts = new Map<string, AlertState>();
    const live = [];
    for (let nowMs = noon; nowMs <= span.toMs; nowMs += minute) {
      const evaluated = evaluateAll(inputsAt(nowMs + 7 * minute), alerts, nowMs, { limits });
      alerts = evaluated.alerts;
      live.push(...evaluated.effects);
    }
    const past = raisingsOf(
      runHistory({ ...span, inputsAt: (nowMs) => inputsAt(nowMs + 7 * minute) }).effects,
    );
    const watched = raisingsOf(live);
    expect(past.map(({ ruleId }) => ruleId)).toEqual(watched.map(({ ruleId }) => ruleId));
    expect(past).toHaveLength(2);
    for (const [i, { raisedAtMs, endedAtMs }] of past.entries()) {
      expect(Math.abs(raisedAtMs - watched[i]!.raisedAtMs)).toBeLessThanOrEqual(span.stepMs);
      expect(Math.abs(endedAtMs! - watched[i]!.endedAtMs!)).toBeLessThanOrEqual(span.stepMs);
    }
  });

  it('go on from where they stood, and pause after each instant', () => {
    const untilMs = noon + 14 * hour;
    const first = runHistory({ ...span, toMs: untilMs });
    const second = runHistory({ ...span, fromMs: untilMs + span.stepMs, alerts: first.alerts });
    expect([...first.effects, ...second.effects]).toEqual(runHistory(span).effects);
    expect([...evaluateHistory({ ...span, toMs: noon + hour })]).toHaveLength(7);
  });

  it('are explained by alerts about others from when those count, which stay out of the result', () => {
    const gone = {
      kind: 'channel' as const,
      id: 'scale',
      name: 'scale',
      nucId: nucSubject.id,
      place: 'brood' as const,
    };
    const key = 'sensor-stuck/channel/scale';
    const [raised] = runHistory(span).effects;
    const { episode } = raised!;
    const cause: AlertState = {
      key,
      ruleId: 'sensor-stuck',
      subject: gone,
      at: { phase: 'raised', episode },
    };
    const causesAt = (nowMs: number) => (nowMs < noon + day ? [cause] : []);
    const { effects, alerts } = runHistory({ ...span, causesAt });
    expect(effects.filter(({ atMs }) => atMs < noon + day)).toEqual([]);
    expect(effects.some(({ kind }) => kind === 'raised')).toBe(true);
    expect(alerts.has(key)).toBe(false);
  });
});
