/** Replay says what would have been raised: the same twice, as it was live, and other with other limits. */
import { describe, expect, it } from 'vitest';
import type { AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import type { RuleInput } from '../../server/rules/engine/inputs.ts';
import { compareRaisings, raisingsOf, replay, type Raising } from '../../server/rules/engine/replay.ts';
import { deviceInput, day, dose, hour, minute, noon, nucInput, nucSubject, signals } from './made-up.ts';

/** Two cold nights, and a sensor that is silent for a day. */
function inputsAt(nowMs: number): RuleInput[] {
  const hourOfDay = Math.floor((nowMs - noon) / hour) % 24;
  const cold = hourOfDay >= 12 && hourOfDay < 18;
  const silent = nowMs > noon + day;
  return [
    nucInput({ nowMs, signals: signals({ doses: [dose('sealed-brood', 'cold', 32, cold ? 30 : 34)] }) }),
    deviceInput({ lastHeardMs: silent ? noon + day : nowMs, unchangedSinceMs: nowMs }, nowMs),
  ];
}
/** Each night on its own, as no clear time joins the two. */
const limits = { farm: { 'brood-chilling': { clearHoldMin: 30 } }, sites: {}, nucs: {} };
const plan = { fromMs: noon, toMs: noon + 2 * day, stepMs: 5 * minute, inputsAt, limits };
const named = (raisings: readonly Raising[]): string[] =>
  raisings.map(
    ({ ruleId, raisedAtMs, endedAtMs }) =>
      `${ruleId} ${String((raisedAtMs - noon) / minute)}-${endedAtMs === null ? '' : String((endedAtMs - noon) / minute)}`,
  );

describe('a replay', () => {
  it('finds what was there', () => {
    expect(named(replay(plan).raisings)).toEqual([
      'brood-chilling 740-1110',
      'sensor-silent 1635-',
      'brood-chilling 2180-2550',
    ]);
  });

  it('gives the same twice, and the same as the live run', () => {
    let alerts: Alerts = new Map<string, AlertState>();
    const live = [];
    for (let nowMs = noon; nowMs <= plan.toMs; nowMs += plan.stepMs) {
      const evaluated = evaluateAll(inputsAt(nowMs), alerts, nowMs, { limits });
      alerts = new Map(JSON.parse(JSON.stringify([...evaluated.alerts])) as [string, AlertState][]);
      live.push(...evaluated.effects);
    }
    expect(replay(plan)).toEqual(replay(plan));
    expect(replay(plan).effects).toEqual(live);
    expect(raisingsOf(live)).toEqual(replay(plan).raisings);
  });

  it('shows what other limits would have done', () => {
    const patient = { farm: { 'brood-chilling': { holdMin: 600 } }, sites: {}, nucs: {} };
    const changed = replay({ ...plan, limits: patient }).raisings;
    expect(named(changed)).toEqual(['sensor-silent 1635-']);
    const { both, onlyReplayed, onlyReal } = compareRaisings(changed, replay(plan).raisings, minute);
    expect([both.length, onlyReplayed.length, onlyReal.length]).toEqual([1, 0, 2]);
  });
});

describe('what was raised', () => {
  const one: Raising = {
    ruleId: 'r',
    subject: nucSubject,
    urgency: 'now',
    raisedAtMs: noon,
    endedAtMs: noon + hour,
  };
  it('is compared by rule, subject and time', () => {
    const later = { ...one, raisedAtMs: noon + 2 * hour, endedAtMs: null };
    const other = { ...one, subject: { ...nucSubject, id: 'n2' } };
    const moved = { ...one, raisedAtMs: noon + 10 * minute };
    expect(compareRaisings([one], [moved], 0).both[0]?.laterMs).toBe(-10 * minute);
    expect(compareRaisings([one, later], [moved], 0)).toMatchObject({ onlyReplayed: [later], onlyReal: [] });
    expect(compareRaisings([other], [one], 0)).toMatchObject({
      both: [],
      onlyReplayed: [other],
      onlyReal: [one],
    });
    expect(compareRaisings([later], [one], 2 * hour).both).toHaveLength(1);
  });

  const span = (fromMin: number, toMin: number): Raising => ({
    ...one,
    raisedAtMs: noon + fromMin * minute,
    endedAtMs: noon + toMin * minute,
  });
  it.each([
    { what: 'that end where the other begins', a: span(0, 60), b: span(60, 90), slackMin: 0, same: true },
    { what: 'a minute apart', a: span(0, 60), b: span(61, 90), slackMin: 0, same: false },
    { what: 'as far apart as the slack', a: span(0, 60), b: span(70, 90), slackMin: 10, same: true },
    { what: 'farther apart than the slack', a: span(0, 60), b: span(71, 90), slackMin: 10, same: false },
    { what: 'of another rule', a: one, b: { ...one, ruleId: 'q' }, slackMin: 0, same: false },
    {
      what: 'of a site of the same id',
      a: one,
      b: { ...one, subject: { ...nucSubject, kind: 'site' as const } },
      slackMin: 0,
      same: false,
    },
  ])('is one finding or two: spans $what', ({ a, b, slackMin, same }) => {
    expect(compareRaisings([a], [b], slackMin * minute).both).toHaveLength(same ? 1 : 0);
    expect(compareRaisings([b], [a], slackMin * minute).both).toHaveLength(same ? 1 : 0);
  });

  it.each(['cleared', 'no-longer-applies', 'closed'] as const)('ends when it is %s', (kind) => {
    const [raised, cleared] = replay({ ...plan, toMs: noon + day }).effects;
    const end = { ...cleared!, kind };
    expect(raisingsOf([raised!, end])).toMatchObject([{ endedAtMs: end.atMs }]);
    expect(raisingsOf([raised!, { ...end, kind: 'still-so' as const }])).toMatchObject([{ endedAtMs: null }]);
  });

  it('keeps the most pressing urgency, and the first end', () => {
    const { effects } = replay({ ...plan, toMs: noon + day });
    const [raised, cleared] = effects;
    const worse = {
      ...raised!,
      kind: 'worsened' as const,
      episode: { ...raised!.episode, urgency: 'now' as const },
    };
    const late = { ...cleared!, atMs: cleared!.atMs + hour };
    expect(raisingsOf([raised!, worse, cleared!, late])).toMatchObject([
      { urgency: 'now', endedAtMs: cleared!.atMs },
    ]);
    // The end of something that began before the span is not a raising.
    expect(raisingsOf([cleared!])).toEqual([]);
  });
});
