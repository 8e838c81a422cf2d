/** Alerts of a watch and of a replay over the same readings, held side by side. */
import { join } from 'node:path';
import fc from 'fast-check';
import { replayNuc } from '../../../server/views/alerts/replay-nuc.ts';
import type { LimitChoices } from '../../../server/rules/engine/limits.ts';
import type { Rule } from '../../../server/rules/engine/rule.ts';
import { simulateNuc, type ScenarioName, type ScenarioOptions } from '../../../simulator/index.ts';
import { scenarios } from '../../../simulator/scenarios.ts';
import { base } from '../../scenarios/expectations.ts';
import { iso, watchedLive, type Told, type WatchedLive } from './watched-live.ts';

export const stepMs = 10 * 60_000;

/** What a replay of the watched span finds, in the order of its raisings. */
export function replayed(
  { store, farm, history, fromMs, toMs }: WatchedLive,
  rules?: readonly Rule[],
  limits: LimitChoices = {},
) {
  const { nucId } = history;
  const asked = { nucId, from: iso(fromMs), to: iso(toMs), limits };
  const answer = replayNuc({ store, book: farm.watch.book }, asked, rules);
  if (!answer) throw new Error(`${nucId} is not in the store`);
  const told = answer.items.map(({ ruleId, subject, raisedAt, clearedAt, text }) => ({
    ruleId,
    about: subject.name,
    raisedAt,
    clearedAt,
    urgency: text,
  }));
  return { told, instants: answer.ticks, onlyReally: answer.onlyReally };
}

const inWords = ({ ruleId, about, raisedAt, clearedAt, urgency }: Told): string =>
  `${ruleId} of ${about} (${urgency}) from ${raisedAt} to ${clearedAt ?? 'the end'}`;

/** What of one list has no counterpart in the other: the same finding with both ends within `withinMs`; each counts once. */
export function differences(live: readonly Told[], found: readonly Told[], withinMs = stepMs): string[] {
  const left = [...found];
  const onlyLive = live.filter((one) => {
    const at = left.findIndex((other) => isSame(one, other, withinMs));
    if (at >= 0) left.splice(at, 1);
    return at < 0;
  });
  return [
    ...onlyLive.map((one) => `only live: ${inWords(one)}`),
    ...left.map((one) => `only in the replay: ${inWords(one)}`),
  ];
}

function isSame(one: Told, other: Told, withinMs: number): boolean {
  const near = (a: string | null, b: string | null): boolean =>
    a === b || (a !== null && b !== null && Math.abs(Date.parse(a) - Date.parse(b)) <= withinMs);
  return (
    one.ruleId === other.ruleId &&
    one.about === other.about &&
    one.urgency === other.urgency &&
    near(one.raisedAt, other.raisedAt) &&
    near(one.clearedAt, other.clearedAt)
  );
}

const { place, splitMs, everyMinutes, parameters } = base;
/** Days of the introduction that are simulated. */
const days = 14;

/** The nuc of a scenario; what the scenario itself changes of it is drawn by the seed. */
export const scenarioOptions = (
  scenario: ScenarioName,
  seed: number,
): ScenarioOptions & { splitMs: number } => ({
  place,
  splitMs,
  everyMinutes,
  seed,
  scenario,
  days,
  parameters: Object.fromEntries(
    Object.entries(parameters).filter(([name]) => !Object.hasOwn(scenarios[scenario].ranges, name)),
  ),
});

const minuteMs = 60_000;
const dayMs = 86_400_000;

/** Where in a scenario: near something that truly happens, or anywhere. */
export const windows = fc.record({
  seed: fc.noBias(fc.integer({ min: 1, max: 1_000_000 })),
  share: fc.noBias(fc.integer({ min: 0, max: 999 })).map((thousandths) => thousandths / 1000),
  nearEvent: fc.noBias(fc.boolean()),
});

/** Differences between watch and replay in a window of so many hours of a simulated nuc. */
export function differencesIn(
  folder: string,
  scenario: ScenarioName,
  { seed, share, nearEvent }: { readonly seed: number; readonly share: number; readonly nearEvent: boolean },
  hours: number,
): string[] {
  const options = scenarioOptions(scenario, seed);
  const firstMs = splitMs + dayMs;
  const lastMs = splitMs + days * dayMs - hours * 3_600_000;
  const events = simulateNuc(options).truth.events.map(({ atMs }) => atMs - 2 * 3_600_000);
  const inReach = nearEvent ? events.filter((atMs) => atMs >= firstMs && atMs <= lastMs) : [];
  const atMs = inReach[Math.floor(share * inReach.length)] ?? firstMs + share * (lastMs - firstMs);
  const fromMs = Math.round(atMs / minuteMs) * minuteMs;
  const span = { fromMs, toMs: fromMs + hours * 3_600_000 };
  const watched = watchedLive(join(folder, `${scenario}-${String(seed)}.db`), scenario, options, { span });
  try {
    // A replay knows nothing of the site, whose gateway explains live why a sensor is silent.
    const isHeld = ({ ruleId }: Told): boolean => scenario !== 'gateway-off' || ruleId !== 'sensor-silent';
    return differences(watched.told().filter(isHeld), replayed(watched).told.filter(isHeld));
  } finally {
    watched.stop();
  }
}
