/** One tick over many subjects, acts of a keeper, and time in which nobody looked. */
import { describe, expect, it } from 'vitest';
import type { AlertState } from '../../server/rules/engine/alert-state.ts';
import { actOnAlert, alertKey, evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import { allAfterOutage, unobservedBetween } from '../../server/rules/engine/outage.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import {
  brokenInput,
  channelInput,
  day,
  deviceInput,
  dose,
  hour,
  minute,
  noon,
  nucInput,
  serverInput,
  serverSubject,
  signals,
  siteInput,
} from './made-up.ts';

const none: Alerts = new Map<string, AlertState>();
const key = alertKey('broker-away', serverSubject);
const noHold = { farm: { 'sensor-silent': { holdMin: 0, clearHoldMin: 0 } }, sites: {}, nucs: {} };

describe('a tick', () => {
  const inputs = [nucInput(), deviceInput(), channelInput(), siteInput([]), serverInput()];
  it('asks every rule about every subject of its kind, and keeps nothing where all is well', () => {
    const { evaluations, effects, alerts, changed } = evaluateAll(inputs, none, noon);
    expect(evaluations.map(({ ruleId }) => ruleId).sort()).toEqual(rules.map(({ id }) => id).sort());
    expect(effects).toEqual([]);
    expect([...alerts.values()].map(({ at }) => at.phase).filter((phase) => phase !== 'no-data')).toEqual([]);
    expect(changed).toHaveLength(alerts.size);
  });

  it('raises an alert with the stretch of readings that shows it', () => {
    const cold = nucInput({ signals: signals({ doses: [dose('sealed-brood', 'cold', 32, 29)] }) });
    const limits = { farm: { 'brood-chilling': { holdMin: 0 } }, sites: {}, nucs: {} };
    const { evaluations, effects } = evaluateAll([cold], none, noon, { limits });
    const found = evaluations.find(({ ruleId }) => ruleId === 'brood-chilling')?.evaluation.evidence;
    expect(found).toMatchObject({ place: 'brood', limit: 32 });
    expect(effects.find(({ ruleId }) => ruleId === 'brood-chilling')?.episode.evidence).toEqual(found);
  });

  it('changes nothing when it is repeated', () => {
    const first = evaluateAll(inputs, none, noon);
    const again = evaluateAll(inputs, first.alerts, noon + minute);
    expect(again.changed).toEqual([]);
    expect(again.alerts).toEqual(first.alerts);
  });

  it('comes to the same alerts where evaluations without an alert are left out', () => {
    const away = [nucInput(), deviceInput(), channelInput(), siteInput([]), brokenInput(noon)];
    let alerts = none;
    for (const [nowMs, all] of [
      [noon, away],
      [noon + minute, away],
      [noon + hour, inputs],
    ] as const) {
      const { evaluations: few, ...same } = evaluateAll(all, alerts, nowMs, { alertsOnly: true });
      const { evaluations, ...whole } = evaluateAll(all, alerts, nowMs);
      expect(same).toEqual(whole);
      expect(few).toEqual(
        evaluations.filter(
          (one) => alerts.has(one.key) || !['no', 'not-applicable'].includes(one.evaluation.verdict),
        ),
      );
      expect(few.length).toBeLessThan(evaluations.length);
      alerts = whole.alerts;
    }
  });

  it('leaves what it was given as it was', () => {
    const raised = evaluateAll([brokenInput(noon)], none, noon).alerts;
    const copy = structuredClone([...raised]);
    evaluateAll([serverInput({ nowMs: noon + hour })], raised, noon + hour);
    expect([...raised]).toEqual(copy);
  });

  it('forgets a hold that came to nothing', () => {
    const limits = { farm: { 'broker-away': { holdMin: 5 } }, sites: {}, nucs: {} };
    const held = evaluateAll([brokenInput(noon)], none, noon, { limits });
    expect(held.alerts.get(key)?.at.phase).toBe('holding');
    const over = evaluateAll([serverInput({ nowMs: noon + minute })], held.alerts, noon + minute, { limits });
    expect(over.alerts.has(key)).toBe(false);
    expect(over.changed.map(({ at }) => at.phase)).toEqual(['quiet']);
  });
});

describe('a look at everything', () => {
  const off = deviceInput({ lastHeardMs: noon - 5 * hour });
  const raised = evaluateAll([off], none, noon, { limits: noHold }).alerts;
  const silent = alertKey('sensor-silent', off.subject);

  it('ends what is about a thing that is no longer there, once', () => {
    expect(raised.get(silent)?.at.phase).toBe('raised');
    const gone = evaluateAll([nucInput()], raised, noon + minute, { everything: true });
    expect(gone.effects.map(({ kind, key: of }) => `${kind} ${of}`)).toEqual([`no-longer-applies ${silent}`]);
    const later = evaluateAll([nucInput()], gone.alerts, noon + 2 * minute, { everything: true });
    expect(later.effects).toEqual([]);
    expect(later.changed).toEqual([]);
  });

  it('is another thing than a look at one nuc', () => {
    const one = evaluateAll([nucInput()], raised, noon + minute);
    expect(one.alerts.get(silent)?.at.phase).toBe('raised');
  });
});

describe('a sensor that goes from one nuc to the next', () => {
  const at = (nucId: string, nowMs: number, silentH: number) => {
    const input = deviceInput({ lastHeardMs: nowMs - silentH * hour }, nowMs);
    return { ...input, subject: { ...input.subject, nucId, name: `box at ${nucId}` } };
  };
  const options = { limits: noHold };
  const silent = alertKey('sensor-silent', at('first', noon, 5).subject);
  const raised = evaluateAll([at('first', noon, 5)], none, noon, options).alerts;

  it('is told silent of the nuc under which it stands then', () => {
    const heard = evaluateAll([at('first', noon + hour, 0)], raised, noon + hour, options).alerts;
    expect(heard.get(silent)).toMatchObject({ at: { phase: 'cleared' }, subject: { nucId: 'first' } });
    const again = evaluateAll([at('second', noon + 9 * day, 5)], heard, noon + 9 * day, options);
    expect(again.effects).toMatchObject([{ kind: 'raised', subject: { nucId: 'second' } }]);
  });

  it('takes along what stands, and what is over stays where it was', () => {
    const moved = evaluateAll([at('second', noon + hour, 6)], raised, noon + hour, options);
    expect(moved.effects).toEqual([]);
    expect(moved.changed).toMatchObject([{ at: { phase: 'raised' }, subject: { nucId: 'second' } }]);
    const over = evaluateAll([at('second', noon + hour, 0)], raised, noon + hour, options);
    expect(over.effects).toMatchObject([{ kind: 'cleared', subject: { nucId: 'first' } }]);
  });
});

describe('a keeper', () => {
  const raised = evaluateAll([brokenInput(noon)], none, noon).alerts;
  it('can close an alert that stays true, and is asked again only after its time', () => {
    const closed = actOnAlert(raised, key, { type: 'close', nowMs: noon, by: 'Ann', found: 'cable' })!;
    expect(closed.effects.map(({ kind }) => kind)).toEqual(['closed']);
    const at = (nowMs: number) =>
      evaluateAll([brokenInput(nowMs)], closed.alerts, nowMs).effects.map(({ kind }) => kind);
    expect(at(noon + 23 * hour)).toEqual([]);
    expect(at(noon + 24 * hour)).toEqual(['still-so']);
  });

  it('can’t act on what is not there', () => {
    expect(actOnAlert(raised, 'nothing', { type: 'seen', nowMs: noon, by: 'Ann' })).toBeNull();
  });
});

describe('time in which nobody looked', () => {
  it.each([
    ['the first tick ever', null, 0],
    ['one tick', noon - minute, 0],
    ['one tick left out', noon - 2 * minute, 0],
    ['a pause', noon - 10 * minute, 9 * minute],
  ])('%s', (_name, lastTickMs, expected) => {
    expect(unobservedBetween(lastTickMs, noon, minute)).toBe(expected);
  });

  it('goes into what is running, once more after each outage, and leaves everything else as it is', () => {
    const subject = { kind: 'nuc', id: 'n1', name: 'Elm 1', nucId: 'n1' } as const;
    const alert = (ruleId: string, at: AlertState['at']): AlertState => ({
      key: alertKey(ruleId, subject),
      ruleId,
      subject,
      at,
    });
    const holding = { phase: 'holding', sinceMs: noon, unobservedMs: 0 } as const;
    const running = alert('runs', holding);
    const gap = alert('gap', { phase: 'no-data', noDataSinceMs: noon, paused: holding });
    const before = new Map([running, gap].map((one) => [one.key, one]));
    const first = allAfterOutage(before, hour);
    expect(first.changed).toEqual([alert('runs', { ...holding, unobservedMs: hour })]);
    expect(first.alerts.get(gap.key)).toBe(gap);
    const second = allAfterOutage(first.alerts, hour);
    expect(second.changed).toEqual([alert('runs', { ...holding, unobservedMs: 2 * hour })]);
    expect(allAfterOutage(before, 0)).toEqual({ alerts: before, changed: [] });
  });
});
