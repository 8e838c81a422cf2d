/** One cause, one alert: what explains what, how far and for how long, and that it can be read. */
import { describe, expect, it } from 'vitest';
import type { AlertState } from '../../server/rules/engine/alert-state.ts';
import { isOpen } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import type { RuleInput } from '../../server/rules/engine/inputs.ts';
import { rules } from '../../server/rules/catalogue/registry.ts';
import { explanations, visitLogged } from '../../server/rules/catalogue/explanations.ts';
import {
  channelInput,
  channelSubject,
  deviceInput,
  dose,
  estimate,
  health,
  hour,
  minute,
  noon,
  nucInput,
  serverInput,
  signals,
  siteInput,
  caged,
} from './made-up.ts';

const none: Alerts = new Map<string, AlertState>();
const open = (alerts: Alerts): string[] =>
  [...alerts.values()]
    .filter(isOpen)
    .map(({ ruleId }) => ruleId)
    .sort();

/** Ticks every five minutes over the given inputs. */
function live(inputsAt: (nowMs: number) => RuleInput[], minutes: number, from = noon, alerts = none) {
  const raised: string[] = [];
  let suppressed: ReturnType<typeof evaluateAll>['suppressed'] = [];
  let because: readonly string[] = [];
  for (let t = 0; t <= minutes; t += 5) {
    const result = evaluateAll(inputsAt(from + t * minute), alerts, from + t * minute);
    ({ alerts, suppressed } = result);
    because = result.evaluations.flatMap(({ suppressedBecause }) => suppressedBecause ?? []);
    raised.push(...result.effects.filter(({ kind }) => kind === 'raised').map(({ ruleId }) => ruleId));
  }
  return { alerts, raised, suppressed, because };
}

describe('the table', () => {
  const known = new Set([...rules.map(({ id }) => id), visitLogged]);
  it('names only rules that there are', () => {
    for (const { cause, explains } of explanations) {
      for (const id of [cause, ...explains]) expect(known, id).toContain(id);
    }
  });

  it('has no circle: nothing explains itself in the end', () => {
    const visit = (id: string, path: readonly string[]): void => {
      expect(path).not.toContain(id);
      for (const { cause, explains, onceRaised } of explanations)
        if (cause === id && !onceRaised) for (const next of explains) visit(next, [...path, id]);
    };
    for (const id of known) visit(id, []);
  });

  it('gives each reason in words', () => {
    for (const { reason } of explanations) expect(reason.length).toBeGreaterThan(15);
  });
});

describe('a night with the gateway off', () => {
  const nucs = 30;
  const heard = noon;
  const at = (nowMs: number): RuleInput[] => {
    const sensors = Array.from({ length: nucs }, (_, i) =>
      health({
        channelId: i,
        sensor: `s${String(i)}`,
        expectedIntervalMs: (5 + (i % 3) * 5) * minute,
        lastHeardMs: heard - (i % 5) * minute,
      }),
    );
    return [
      siteInput(sensors, nowMs),
      ...sensors.map((health, i) => ({
        ...deviceInput({}, nowMs),
        channels: [{ name: `probe ${String(i)}`, health }],
        subject: {
          kind: 'device' as const,
          id: `s${String(i)}`,
          name: `s${String(i)}`,
          siteId: 's1',
          nucId: `n${String(i)}`,
        },
      })),
    ];
  };

  it('is one alert, not thirty, and says which it explains', () => {
    const night = live(at, 10 * 60);
    expect(night.raised).toEqual(['everything-silent']);
    expect(night.suppressed).toHaveLength(nucs);
    expect(night.suppressed[0]).toMatchObject({
      ruleId: 'sensor-silent',
      byRule: 'everything-silent',
      bySubject: { name: 'Hill' },
    });
  });

  it('leaves the one that stays silent when the others are back', () => {
    const night = live(at, 10 * 60);
    const back = (nowMs: number): RuleInput[] =>
      at(nowMs).map((input) =>
        input.on === 'device' && input.subject.id !== 's3'
          ? {
              ...input,
              channels: input.channels.map((one) => ({
                ...one,
                health: { ...one.health, lastHeardMs: nowMs },
              })),
            }
          : input.on === 'site'
            ? {
                ...input,
                sensors: input.sensors.map((one) =>
                  one.channelId === 3 ? one : { ...one, lastHeardMs: nowMs, unchangedSinceMs: nowMs },
                ),
              }
            : input,
      );
    const after = live(back, 6 * 60, noon + 10 * hour, night.alerts);
    expect(after.raised).toEqual(['sensor-silent']);
    expect(open(after.alerts)).toEqual(['sensor-silent']);
  });
});

describe('a server that was down', () => {
  it('explains that the sensors have not reported yet', () => {
    const down = { fromMs: noon - 5 * hour, toMs: noon };
    const at = (nowMs: number): RuleInput[] => [
      serverInput({ nowMs, down }),
      deviceInput({ lastHeardMs: nowMs < noon + 20 * minute ? noon - 5 * hour : nowMs }, nowMs),
    ];
    expect(live(at, 120).raised).toEqual(['server-was-down']);
  });
});

describe('one nuc', () => {
  const cold = {
    doses: [dose('sealed-brood', 'cold', 32, 29), dose('caged-queen', 'cold', 15, 12)],
    outlook: { ...signals().outlook, chanceBelow: 0.95 },
  };

  const implausible = (place: 'brood' | 'cage' | 'scale', nowMs: number): RuleInput =>
    channelInput({ suspects24h: 200, place, lastHeardMs: nowMs }, nowMs);

  it('that is cold is told once, by what comes first', () => {
    const at = (nowMs: number) => [nucInput({ nowMs, introduction: caged(), signals: signals(cold) })];
    const { raised, suppressed, because } = live(at, 180);
    expect(raised).toEqual(['cage-too-cold']);
    expect(suppressed.map(({ ruleId }) => ruleId).sort()).toEqual(['brood-chilling', 'chilling-tonight']);
    expect(because).toEqual(suppressed.map(({ reason }) => reason));
  });

  it('whose chill was foreseen is told once before it comes, whichever look foresaw it', () => {
    const tonight = { ...signals().outlook, chanceBelow: 0.95 };
    const both = { ...tonight, minutesToLimit: estimate(90) };
    const foreseen = (first: typeof tonight | typeof both) => (nowMs: number) => [
      nucInput({ nowMs, signals: signals({ outlook: nowMs < noon + hour ? first : both }) }),
    ];
    expect(live(foreseen(tonight), 180).raised).toEqual(['chilling-tonight']);
    expect(live(foreseen(both), 180).raised).toEqual(['chilling-ahead']);
  });

  it('that was visited within the hour is not cold', () => {
    const at = (nowMs: number) => [
      nucInput({ nowMs, lastVisitAtMs: noon, introduction: caged(), signals: signals(cold) }),
    ];
    expect(live(at, 60).raised).toEqual([]);
    expect(live(at, 75).raised).toEqual(['cage-too-cold']);
  });

  it('whose probe talks nonsense is not cold, though another one is', () => {
    const at = (nowMs: number): RuleInput[] => [
      implausible('cage', nowMs),
      nucInput({ nowMs, introduction: caged(), signals: signals(cold) }),
      nucInput({
        nowMs,
        introduction: caged(),
        signals: signals(cold),
        subject: { kind: 'nuc', id: 'n2', name: 'Nuc 2', siteId: 's1' },
      }),
    ];
    const { alerts } = live(at, 180);
    const keys = [...alerts.values()].filter(isOpen).map(({ key }) => key);
    expect(keys.sort()).toEqual([
      'brood-chilling/nuc/n1',
      'cage-too-cold/nuc/n2',
      'sensor-implausible/channel/7',
    ]);
  });

  it('whose scale talks nonsense may well be cold', () => {
    const at = (nowMs: number): RuleInput[] => [
      implausible('scale', nowMs),
      nucInput({ nowMs, introduction: caged(), signals: signals(cold) }),
    ];
    expect(open(live(at, 180).alerts)).toEqual(['cage-too-cold', 'sensor-implausible']);
  });

  /** Stuck from the start; two days later what comes is flagged as what can't be. */
  const stuck = (nowMs: number, place: 'brood' | 'scale'): RuleInput =>
    channelInput(
      {
        place,
        unchangedSinceMs: noon - 2 * hour,
        lastHeardMs: nowMs,
        suspects24h: nowMs > noon + 46 * hour ? Math.min(288, (nowMs - noon - 46 * hour) / (5 * minute)) : 0,
      },
      nowMs,
    );

  it('whose probe is stuck is told so once, and not again when what never moves is flagged', () => {
    const { raised, suppressed } = live((nowMs) => [stuck(nowMs, 'brood')], 72 * 60);
    expect(raised).toEqual(['sensor-stuck']);
    expect(suppressed).toMatchObject([{ ruleId: 'sensor-implausible', byRule: 'sensor-stuck' }]);
  });

  it('whose probe is stuck at a cold value is not told to chill, nor to chill tonight', () => {
    const at = (nowMs: number): RuleInput[] => [
      stuck(nowMs, 'brood'),
      nucInput({ nowMs, signals: nowMs > noon + 20 * hour ? signals(cold) : signals() }),
    ];
    expect(live(at, 40 * 60).raised).toEqual(['sensor-stuck']);
  });

  it('whose probe talks nonsense may have a scale that is stuck besides: two causes, two alerts', () => {
    const at = (nowMs: number): RuleInput[] => [
      implausible('brood', nowMs),
      { ...stuck(nowMs, 'scale'), subject: { ...channelSubject, id: '8' } } as RuleInput,
    ];
    expect(live(at, 40 * 60).raised.sort()).toEqual(['sensor-implausible', 'sensor-stuck']);
  });

  it('keeps an alert that was told before its explanation came', () => {
    const chilling = (nowMs: number) => [
      nucInput({ nowMs, signals: signals({ doses: [dose('sealed-brood', 'cold', 32, 29)] }) }),
    ];
    const first = live(chilling, 60);
    const both = (nowMs: number) => [nucInput({ nowMs, introduction: caged(), signals: signals(cold) })];
    const then = live(both, 60, noon + hour, first.alerts);
    expect(open(then.alerts)).toEqual(['brood-chilling', 'cage-too-cold']);
  });

  it('a box that is gone took its probes along: no silent sensor besides', () => {
    const gone = { atMs: noon - 30 * minute, sizeG: -14_000, sizeSdG: 20, kind: 'gone' as const };
    const at = (nowMs: number) => [
      nucInput({ nowMs, signals: signals({ steps: [gone] }) }),
      deviceInput({ lastHeardMs: noon - 30 * minute }, nowMs),
    ];
    expect(live(at, 360).raised).toEqual(['box-gone']);
  });

  it('a nuc that is robbed has no drifting scale, nor on the days after, whose fit still rests on those nights', () => {
    const scaleTemperature = estimate(30, 25, 35);
    const robbing = {
      underWay: true,
      why: 'two such days',
      days: ['2026-05-04', '2026-05-05'].map((date) => ({ date, lossG: 600, fastestGPerH: 250 })),
    };
    const over = { ...robbing, underWay: false, days: [] };
    const told = (given: Parameters<typeof signals>[0]) => (nowMs: number) => [
      nucInput({ nowMs, signals: signals({ scaleTemperature, ...given }) }),
    ];
    const robbed = live(told({ robbing }), 48 * 60);
    expect(robbed.raised).toEqual(['being-robbed']);
    const after = live(told({ robbing: over }), 4 * 1440, noon + 48 * hour, robbed.alerts);
    expect(after.raised).toEqual([]);
    expect(live(told({ robbing: over }), 48 * 60, noon + 20 * 24 * hour, after.alerts).raised).toEqual([]);
    expect(live(told({}), 48 * 60).raised).toEqual(['scale-drifting']);
  });

  it('a cause that lives on explains for a while after its end', () => {
    const gone = { atMs: noon - minute, sizeG: -14_000, sizeSdG: 20, kind: 'gone' as const };
    const back = { atMs: noon + 60 * minute, sizeG: 14_000, sizeSdG: 20, kind: 'added' as const };
    const robbing = {
      underWay: true,
      why: 'two days',
      days: [1, 2].map((n) => ({ date: `2026-05-0${String(n)}`, lossG: 900, fastestGPerH: 300 })),
    };
    const at = (nowMs: number) => [
      nucInput({ nowMs, signals: signals({ robbing, steps: nowMs < back.atMs ? [gone] : [gone, back] }) }),
    ];
    const { raised } = live(at, 120);
    expect(raised).toEqual(['box-gone']);
    expect(live(at, 240).raised).toEqual(['box-gone', 'being-robbed']);
  });
});

describe('channels without a place, nucs without a site', () => {
  it('are beyond the reach of what explains a site', () => {
    const at = (nowMs: number): RuleInput[] => [
      siteInput(
        [
          health({ sensor: 'a', lastHeardMs: noon - hour }),
          health({ sensor: 'b', lastHeardMs: noon - hour }),
        ],
        nowMs,
      ),
      {
        ...deviceInput({ lastHeardMs: noon - 4 * hour }, nowMs),
        subject: { kind: 'device', id: '9', name: 'loose' },
      },
    ];
    expect(live(at, 60).raised.sort()).toEqual(['everything-silent', 'sensor-silent']);
  });
});
