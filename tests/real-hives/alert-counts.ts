/** Alerts a hive-month, by rule and urgency, and what became of failing colonies. */
import type { LimitSettings } from '../../server/rules/engine/limits.ts';
import type { Raising } from '../../server/rules/engine/replay.ts';
import { alertsOf, fixedLimitAlarms, monthsOf, type Log, type Watched } from './watched-hive.ts';

const dayMs = 86_400_000;
const failingWithinDays = 3;

export interface Counted {
  readonly months: number;
  readonly perMonth: number;
  readonly fixedPerMonth: number;
  /** By rule and urgency, the most frequent first. */
  readonly byRule: readonly { readonly key: string; readonly n: number; readonly perMonth: number }[];
  readonly raised: readonly { readonly hive: string; readonly one: Raising }[];
}

/** What is told of a failing colony is right; every other alert is counted as one too many. */
const isWrong = ({ hive }: Watched, { raisedAtMs }: Raising): boolean =>
  raisedAtMs < (hive.failsFromMs ?? Infinity);

export function countAlerts(all: readonly Watched[], log: Log, limits?: LimitSettings): Counted {
  const months = all.reduce((sum, watched) => sum + monthsOf(watched), 0);
  const fixed = all.reduce((sum, watched) => sum + fixedLimitAlarms(watched), 0);
  const raised = all.flatMap((watched) =>
    alertsOf(watched, log, limits)
      .filter((one) => isWrong(watched, one))
      .map((one) => ({ hive: watched.hive.name, one })),
  );
  const counts = new Map<string, number>();
  for (const { one } of raised) {
    const key = `${one.ruleId} (${one.urgency})`;
    counts.set(key, (counts.get(key) ?? 0) + 1);
  }
  const byRule = [...counts]
    .sort((a, b) => b[1] - a[1])
    .map(([key, n]) => ({ key, n, perMonth: n / months }));
  return { months, perMonth: raised.length / months, fixedPerMonth: fixed / months, byRule, raised };
}

export interface FailingFound {
  readonly hive: string;
  readonly foundMs: number | null;
  /** Days after it began. */
  readonly day: number | null;
  readonly timesFound: number;
  readonly met: boolean;
}

/** Colonies known to fail: on which day they are found, and whether one warm day clears that. */
export function failingFound(all: readonly Watched[], log: Log): FailingFound[] {
  return all.flatMap((watched): FailingFound[] => {
    const { failsFromMs, name } = watched.hive;
    if (failsFromMs === undefined) return [];
    const found = alertsOf(watched, log).filter(({ ruleId }) => ruleId === 'colony-failing');
    const foundMs = found[0]?.raisedAtMs ?? null;
    const day = foundMs === null ? null : (foundMs - failsFromMs) / dayMs;
    const met = day !== null && day >= 0 && day <= failingWithinDays && found.length === 1;
    return [{ hive: name, foundMs, day, timesFound: found.length, met }];
  });
}
