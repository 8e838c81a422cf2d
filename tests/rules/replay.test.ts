/** Replay says what would have been raised: the same twice, as it was live, and other with other limits. */
import { describe, expect, it } from 'vitest';
import type { AlertState } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import type { RuleInput } from '../../server/rules/engine/inputs.ts';
import { limitsFor, noLimitSettings } from '../../server/rules/engine/limits.ts';
import { rules as allRules } from '../../server/rules/catalogue/registry.ts';
import {
  compareRaisings,
  raisingsOf,
  replay,
  type Leaps,
  type Raising,
} from '../../server/rules/engine/replay.ts';
import type { Rule } from '../../server/rules/engine/rule.ts';
import { planReaders } from '../../server/rules/engine/turns.ts';
import { ruleCases } from './rule-cases.ts';
import {
  deviceInput,
  day,
  dose,
  hour,
  minute,
  noon,
  nucInput,
  nucSubject,
  signals,
  stage,
  step,
} from './made-up.ts';

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
const plan = { fromMs: noon, toMs: noon + 2 * day, tickMs: 5 * minute, inputsAt };
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
    for (let nowMs = noon; nowMs <= plan.toMs; nowMs += plan.tickMs) {
      const evaluated = evaluateAll(inputsAt(nowMs), alerts, nowMs);
      alerts = new Map(JSON.parse(JSON.stringify([...evaluated.alerts])) as [string, AlertState][]);
      live.push(...evaluated.effects);
    }
    expect(replay(plan)).toEqual(replay(plan));
    expect(replay(plan).effects).toEqual(live);
    expect(raisingsOf(live)).toEqual(replay(plan).raisings);
  });

  it('looks at the same instants wherever it begins', () => {
    const seen: number[] = [];
    replay({
      ...plan,
      fromMs: noon + 1,
      toMs: noon + 11 * minute,
      inputsAt: (nowMs) => (seen.push(nowMs), []),
    });
    expect(seen.map((nowMs) => (nowMs - noon) / minute)).toEqual([5, 10]);
  });

  it('shows what other limits would have done', () => {
    const limits = { farm: { 'brood-chilling': { holdMin: 600 } }, sites: {}, nucs: {} };
    const changed = replay({ ...plan, limits }).raisings;
    expect(named(changed)).toEqual(['sensor-silent 1635-']);
    const { both, onlyReplayed, onlyReal } = compareRaisings(changed, replay(plan).raisings, minute);
    expect([both.length, onlyReplayed.length, onlyReal.length]).toEqual([1, 0, 2]);
  });
});

describe('a replay that leaps', () => {
  /** Nothing is at rest worth a look but what rules find. */
  const leaps = {
    isCalm: () => false,
    longestMs: 4 * hour,
    longestInCalmMs: 8 * hour,
    shortestMs: 10 * minute,
    atRest: () => true,
    nextReadMs: (nowMs: number) => nowMs + 5 * minute,
    stopsMs: [],
  };
  const cold = (nowMs: number, untilMs: number): RuleInput => {
    const { outlook } = signals();
    const chanceBelow = nowMs < untilMs ? 0.9 : 0.02;
    return nucInput({
      nowMs,
      signals: signals({ outlook: { ...outlook, chanceBelow } }),
      lastVisitAtMs: noon - 10 * minute,
    });
  };

  it('finds what a visit explained at first and what was over before the leap had ended', () => {
    const told = {
      ...{ fromMs: noon, toMs: noon + day, tickMs: minute },
      inputsAt: (nowMs: number) => [cold(nowMs, noon + 2.5 * hour)],
    };
    const raised = named(replay(told).raisings);
    expect(raised).toEqual(['chilling-tonight 81-270']);
    const leapt = replay({ ...told, leaps });
    expect(named(leapt.raisings)).toEqual(raised);
    expect(leapt.ticks).toBeLessThan(120);
  });

  it('does not ask when something began that another finding explains all the time', () => {
    const overdue = step({ earliestMs: noon - 5 * day, latestMs: noon - 2 * day });
    // Due again each noon for half a day, which nobody is told.
    const inputsOf = (nowMs: number): RuleInput[] => {
      const days = Math.floor((nowMs - noon) / day);
      const isDue = (nowMs - noon) % day <= 12 * hour;
      const next = step({
        ...{ id: 'next', kind: 'look-for-queen', earliestMs: noon - day, latestMs: noon + 9 * day },
        targetMs: noon + (days + (isDue ? 0 : 1)) * day + 12 * hour,
      });
      return [nucInput({ nowMs, plan: [{ ...overdue, targetMs: noon + 9 * day }, next] })];
    };
    const { raisings, ticks } = replay({
      ...{ fromMs: noon, toMs: noon + 4 * day, tickMs: minute, leaps },
      inputsAt: inputsOf,
    });
    expect(named(raisings)).toEqual(['visit-overdue 0-']);
    // Looks at the turns and around them, and no search for any.
    expect(ticks).toBeLessThan(4 * (6 + 4) + 8);
  });
});

describe('a replay that leaps', () => {
  /** The cold begins and ends at these instants; between them nothing moves. */
  const turns = [12, 18, 36, 42].map((hours) => noon + hours * hour);
  const leaps: Leaps = {
    isCalm: () => true,
    longestMs: 4 * hour,
    longestInCalmMs: 6 * hour,
    shortestMs: 10 * minute,
    atRest: (fromMs, toMs) => !turns.some((atMs) => atMs > fromMs && atMs < toMs),
    nextReadMs: (nowMs) => nowMs + 5 * minute,
    stopsMs: [noon + day],
  };

  it('does not search for what is known to turn at a stop, but for all else', () => {
    const silentMs = noon + day + 3 * hour;
    const known = { ...leaps, stopsMs: [silentMs] };
    const isSilence: Leaps['turnsAt'] = (atMs, { subject }) => atMs === silentMs && subject.kind === 'device';
    const searching = replay({ ...plan, leaps: known });
    const knowing = replay({ ...plan, leaps: { ...known, turnsAt: isSilence } });
    expect(knowing.raisings).toEqual(replay(plan).raisings);
    expect(knowing.ticks).toBeLessThan(searching.ticks);
    // Of what turned before its stop, nobody may say that it turned there.
    const late = { ...known, stopsMs: [silentMs + 2 * hour] };
    expect(replay({ ...plan, leaps: { ...late, turnsAt: isSilence } }).raisings).toEqual(searching.raisings);
  });

  it('finds the same as one that looks at every tick, by fewer looks', () => {
    const every = replay(plan);
    const leaping = replay({ ...plan, leaps });
    expect(leaping.raisings).toEqual(every.raisings);
    expect(leaping.ticks).toBeLessThan(every.ticks / 2);
  });

  it('finds it with a long hold, in which it looks more closely, and with one that a flicker ends', () => {
    const limits = { farm: { 'brood-chilling': { holdMin: 300 } }, sites: {}, nucs: {} };
    const every = replay({ ...plan, limits });
    expect(every.raisings.some(({ ruleId }) => ruleId === 'brood-chilling')).toBe(true);
    expect(replay({ ...plan, limits, leaps }).raisings).toEqual(every.raisings);
    const flicker = noon + 15 * hour;
    const broken = {
      ...plan,
      limits,
      inputsAt: (nowMs: number) => inputsAt(nowMs === flicker ? noon : nowMs),
    };
    const closely = { ...leaps, stopsMs: [flicker, noon + day] };
    expect(replay({ ...broken, leaps: closely }).raisings).toEqual(replay(broken).raisings);
  });

  it('finds a flicker among readings that move while a hold is running, and leaps over the hold where none does', () => {
    const limits = { farm: { 'brood-chilling': { holdMin: 300 } }, sites: {}, nucs: {} };
    const flicker = noon + 15 * hour;
    const flickering = {
      ...{ ...plan, limits, tickMs: minute },
      inputsAt: (nowMs: number) => inputsAt(nowMs >= flicker && nowMs < flicker + hour / 2 ? noon : nowMs),
    };
    const moves = (fromMs: number, toMs: number): boolean =>
      [flicker, flicker + hour / 2].some((atMs) => fromMs < atMs && toMs >= atMs);
    const atRest: Leaps['atRest'] = (fromMs, toMs, calm) =>
      leaps.atRest(fromMs, toMs, calm) && !moves(fromMs, toMs);
    const nextReadMs = (nowMs: number): number => (Math.floor(nowMs / (5 * minute)) + 1) * 5 * minute;
    const leapt = replay({ ...flickering, leaps: { ...leaps, atRest, nextReadMs } });
    expect(named(leapt.raisings)).toEqual(named(replay(flickering).raisings));
    expect(leapt.ticks).toBeLessThan(180);
    // What moves with no reading, such as the night that is expected, counts in a hold wherever readings are.
    const blind: Leaps = { ...leaps, nextReadMs, isCalm: () => false };
    expect(named(replay({ ...flickering, leaps: blind }).raisings)).toEqual(named(leapt.raisings));
    const steady = { ...plan, limits, tickMs: minute };
    expect(replay({ ...steady, leaps }).ticks).toBeLessThan(120);
  });

  it('takes readings at rest as far as they are, and does not search for where it became less calm', () => {
    const moved = noon + 3.3 * hour;
    const looked: number[] = [];
    const { ticks } = replay({
      ...{ fromMs: noon, toMs: noon + 12 * hour, tickMs: minute },
      inputsAt: (nowMs) => {
        looked.push((nowMs - noon) / hour);
        return [nucInput({ nowMs })];
      },
      leaps: {
        ...leaps,
        isCalm: ([seen]) => seen !== undefined && seen.nowMs <= noon + 8 * hour,
        longestMs: 2 * hour,
        longestInCalmMs: 8 * hour,
        atRest: (fromMs, toMs) => fromMs >= moved || toMs <= moved,
        stopsMs: [],
      },
    });
    expect(looked).toContain(3.3);
    expect(ticks).toBeLessThan(14);
  });

  it('looks as closely at readings that move while a long hold is running as without one', () => {
    // Overdue for a day before it is told, and meanwhile cold for less than an hour.
    const overdue = step({ targetMs: noon + 30 * day, latestMs: noon - 2 * day });
    const coldFrom = noon + 5 * hour + 7 * minute;
    const coldTo = coldFrom + 50 * minute;
    const both = {
      ...{ fromMs: noon, toMs: noon + day, tickMs: minute },
      limits: { farm: { 'visit-overdue': { holdMin: 1440 } }, sites: {}, nucs: {} },
      inputsAt: (nowMs: number) => {
        const cold = nowMs >= coldFrom && nowMs < coldTo;
        const doses = [dose('sealed-brood', 'cold', 32, cold ? 30 : 34)];
        return [nucInput({ nowMs, plan: [overdue], signals: signals({ doses }) })];
      },
    };
    const moving: Leaps = {
      ...leaps,
      atRest: () => false,
      nextReadMs: (nowMs) => nowMs + 5 * minute,
      stopsMs: [],
    };
    const every = named(replay(both).raisings);
    expect(every.some((raised) => raised.startsWith('brood-chilling'))).toBe(true);
    expect(named(replay({ ...both, leaps: moving }).raisings)).toEqual(every);
  });

  it('stops where the calendar may begin what readings end before the leap is over', () => {
    const cut = step({ kind: 'cut-cells', targetMs: noon + 27 * hour, latestMs: noon + 50 * hour });
    const leaving = {
      ...{ fromMs: noon, toMs: noon + 12 * hour, tickMs: minute },
      inputsAt: (nowMs: number) => {
        const state = nowMs < noon + 6 * hour ? ('leaving' as const) : ('gone' as const);
        return [nucInput({ nowMs, plan: [cut], signals: signals({ drift: { ...signals().drift, state } }) })];
      },
    };
    const every = named(replay(leaving).raisings);
    expect(every.some((raised) => raised.startsWith('foragers-leaving'))).toBe(true);
    const far: Leaps = { ...leaps, atRest: () => true, longestInCalmMs: 12 * hour, stopsMs: [] };
    expect(named(replay({ ...leaving, leaps: far }).raisings)).toEqual(every);
  });

  it('looks once more before the calendar may end what readings began', () => {
    const emergedMs = noon + 8 * hour;
    const cold = {
      ...{ fromMs: noon, toMs: noon + 12 * hour, tickMs: minute },
      inputsAt: (nowMs: number) => {
        const introduction = stage({ broodChangesAtMs: emergedMs });
        // The dose has grown to what is told without a reading that crosses anything.
        const degreeHours = nowMs < noon + 5 * hour ? 0 : 3;
        const doses = [dose('sealed-brood', 'cold', 32, 31.8, { degreeHours })];
        const regime = nowMs < emergedMs ? ('sealed-brood' as const) : ('broodless' as const);
        return [nucInput({ nowMs, introduction, signals: signals({ doses }, regime) })];
      },
    };
    const every = named(replay(cold).raisings);
    expect(every).toEqual([expect.stringMatching(/^brood-chilling \d+-480$/)]);
    const far: Leaps = { ...leaps, atRest: () => true, longestInCalmMs: 12 * hour, stopsMs: [] };
    expect(named(replay({ ...cold, leaps: far }).raisings)).toEqual(every);
  });

  it('asks those rules alone to which what moved tells something, and goes on where they say the same', () => {
    // The nest wanders all day and is cold for an hour; only the probe tells of it.
    const coldFrom = noon + 9.4 * hour;
    const asked = new Map<string, number>();
    const rules = allRules.map((rule) => ({
      ...rule,
      evaluate: (...given: Parameters<Rule['evaluate']>) => {
        asked.set(rule.id, (asked.get(rule.id) ?? 0) + 1);
        return rule.evaluate(...given);
      },
    }));
    const wandering = {
      ...{ fromMs: noon, toMs: noon + day, tickMs: minute, rules },
      inputsAt: (nowMs: number) => {
        const cold = nowMs >= coldFrom && nowMs < coldFrom + hour;
        const doses = [dose('sealed-brood', 'cold', 32, cold ? 30 : 34)];
        return [nucInput({ nowMs, signals: signals({ doses }) })];
      },
    };
    const every = named(replay(wandering).raisings);
    expect(every).toEqual([expect.stringMatching(/^brood-chilling /)]);
    const moving: Leaps = {
      ...leaps,
      longestInCalmMs: day,
      atRest: (fromMs, toMs) => toMs - fromMs <= 20 * minute,
      toldBy: () => new Set(['brood-chilling']),
      stopsMs: [],
    };
    asked.clear();
    expect(named(replay({ ...wandering, leaps: moving }).raisings)).toEqual(every);
    expect(asked.get('brood-chilling')).toBeGreaterThan(60);
    expect(asked.get('stores-low')).toBeLessThan(20);
    // Where it may be any rule, all of them look.
    asked.clear();
    replay({ ...wandering, leaps: { ...moving, toldBy: () => undefined } });
    expect(asked.get('stores-low')).toBeGreaterThan(60);
  });

  it('asks again about the night where glances have gone on for hours', () => {
    const nightMs = noon + 7 * hour;
    const { outlook } = signals();
    const told = {
      ...{ fromMs: noon, toMs: noon + day, tickMs: minute },
      inputsAt: (nowMs: number) => {
        const chanceBelow = nowMs >= nightMs && nowMs < nightMs + 5 * hour ? 0.9 : 0;
        return [nucInput({ nowMs, signals: signals({ outlook: { ...outlook, chanceBelow } }) })];
      },
    };
    const every = named(replay(told).raisings);
    expect(every).toEqual([expect.stringMatching(/^chilling-tonight /)]);
    const moving: Leaps = {
      ...leaps,
      longestInCalmMs: day,
      atRest: (fromMs, toMs) => toMs - fromMs <= 20 * minute,
      toldBy: () => new Set(['brood-chilling']),
      toldByCalm: { ruleIds: new Set(['chilling-tonight']), everyMs: hour },
      stopsMs: [],
    };
    expect(named(replay({ ...told, leaps: moving }).raisings)).toEqual(every);
    const never = { ...moving, toldByCalm: { ruleIds: new Set<string>(), everyMs: hour } };
    expect(named(replay({ ...told, leaps: never }).raisings)).toEqual([]);
  });

  it('asks at a named instant what is told with nothing moving, and is explained before the next look', () => {
    const movedMs = noon + 3 * hour;
    const visitMs = noon + 5 * hour;
    const toppled = {
      ...{ fromMs: noon, toMs: noon + 10 * hour, tickMs: minute },
      inputsAt: (nowMs: number) => {
        const step = {
          ...{ atMs: movedMs, sizeG: -9000, sizeSdG: 20, kind: 'toppled' as const },
          why: 'a box on its side',
        };
        const isSeen = nowMs >= movedMs + 25 * minute;
        return [
          nucInput({
            nowMs,
            signals: signals({ steps: isSeen ? [step] : [] }),
            lastVisitAtMs: nowMs >= visitMs ? visitMs : null,
          }),
        ];
      },
    };
    const every = named(replay(toppled).raisings);
    expect(every).toEqual([expect.stringMatching(/^box-toppled 210-/)]);
    const still: Leaps = {
      ...leaps,
      atRest: (fromMs, toMs) => !(fromMs < movedMs && toMs > movedMs),
      stopsMs: [visitMs],
    };
    const asked = [{ atMs: movedMs + hour, ruleIds: new Set(['box-toppled']) }];
    expect(named(replay({ ...toppled, leaps: { ...still, asked } }).raisings)).toEqual(every);
    expect(named(replay({ ...toppled, leaps: still }).raisings)).not.toEqual(every);
  });

  it('looks before a finding for what it explains, of which nothing is to be seen later', () => {
    const nightMs = noon + 2.2 * hour;
    const coldMs = noon + 4.1 * hour;
    const { outlook } = signals();
    const hidden = {
      ...{ fromMs: noon, toMs: noon + 12 * hour, tickMs: minute },
      inputsAt: (nowMs: number) => {
        const doses = [dose('sealed-brood', 'cold', 32, nowMs >= coldMs ? 30 : 34)];
        const chanceBelow = nowMs >= nightMs ? 0.9 : 0.5;
        return [nucInput({ nowMs, signals: signals({ doses, outlook: { ...outlook, chanceBelow } }) })];
      },
    };
    const limits = { farm: { 'chilling-tonight': { chancePct: 80 } }, sites: {}, nucs: {} };
    const every = named(replay({ ...hidden, limits }).raisings);
    expect(every.map((raised) => raised.split(' ')[0])).toEqual(['chilling-tonight', 'brood-chilling']);
    const far: Leaps = { ...leaps, atRest: () => true, stopsMs: [] };
    expect(named(replay({ ...hidden, limits, leaps: far }).raisings)).toEqual(every);
  });

  it('finds a step due on two days running that its day’s end plans anew in between', () => {
    // Due at ten for a day; planned for ten of the next day once its own is over, and for the day after once that ten has passed.
    const due = noon;
    const tens = (nowMs: number): number => {
      const midnight = noon + 12 * hour;
      if (nowMs < midnight) return due;
      return nowMs <= due + day ? due + day : due + 2 * day;
    };
    const moving = {
      ...{ fromMs: noon - day, toMs: noon + 2 * day, tickMs: minute },
      inputsAt: (nowMs: number) => [
        nucInput({
          nowMs,
          plan: [step({ earliestMs: due - day, targetMs: tens(nowMs), latestMs: noon + 9 * day })],
        }),
      ],
    };
    const every = named(replay(moving).raisings);
    expect(every.filter((raised) => raised.startsWith('visit-due'))).toHaveLength(2);
    const far: Leaps = { ...leaps, atRest: () => true, longestInCalmMs: 36 * hour, stopsMs: [] };
    expect(named(replay({ ...moving, leaps: far }).raisings)).toEqual(every);
  });

  it('looks at nothing where no tick lies in the span', () => {
    const none = replay({ ...plan, fromMs: noon + 1, toMs: noon + 2, leaps });
    expect([none.ticks, none.raisings]).toEqual([0, []]);
  });
});

describe('rules about the plan', () => {
  it('are those that a replay asks where the plan turns', () => {
    const found = new Set<string>();
    for (const made of ruleCases.flatMap(({ under, at, over, easing, gap }) => [
      under,
      at,
      over,
      easing,
      gap,
    ])) {
      const input = made?.(noon);
      if (input?.on !== 'nuc') continue;
      // Another step, near enough to be spoken of, due, overdue or too early.
      const others = [-30, -1, 5, 40].map((hours) => {
        const targetMs = noon + hours * hour;
        return [step({ earliestMs: targetMs + hour, targetMs, latestMs: targetMs + hour })];
      });
      for (const rule of allRules.filter(({ on }) => on === 'nuc')) {
        const limits = limitsFor(rule, input.subject, noLimitSettings);
        const said = [input.plan, [], ...others].map((plan) => {
          const { verdict, clear, urgency } = rule.evaluate({ ...input, plan }, limits);
          return `${verdict} ${String(clear)} ${urgency ?? ''}`;
        });
        if (new Set(said).size > 1) found.add(rule.id);
      }
    }
    expect([...found].sort()).toEqual([...planReaders].sort());
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
