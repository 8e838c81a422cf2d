/** The plan as Today says it: today's visits by site, a line a nuc, and the days after. Pure. */
import type { AlertDto } from '../../server/contract/alerts.ts';
import type { PlanStepDto } from '../../server/contract/nucs.ts';
import type { PlanDto } from '../../server/contract/plan.ts';
import { byName } from '../format/names.ts';

export interface NucVisit {
  readonly nucId: string;
  readonly nucName: string;
  /** What is to be done today, in its order. */
  readonly steps: readonly PlanStepDto[];
  /** What the day was meant for and something forbids. */
  readonly blocked: readonly PlanStepDto[];
}

export interface SiteVisit {
  readonly siteId: string;
  readonly siteName: string;
  readonly nucs: readonly NucVisit[];
  /** For all of it, each thing once; with what the nucs in trouble need. */
  readonly bring: readonly string[];
  /** Nucs in trouble there that no visit is due to. */
  readonly help: readonly string[];
  readonly clashes: readonly string[];
}

const unique = <T>(items: readonly T[]): T[] => [...new Set(items)];

/** Of the plan up to today, and of the sites with a nuc in trouble; `urgent`: the alerts that stand under *now*. */
export function visitsOfToday(
  plan: PlanDto,
  urgent: readonly AlertDto[],
  today: string,
): readonly SiteVisit[] {
  const days = plan.items.filter((day) => day.date <= today);
  const sites = new Map<string, string>();
  for (const day of days) sites.set(day.siteId, day.siteName);
  for (const { siteId, siteName, bring } of urgent)
    if (siteId !== undefined && bring.length > 0) sites.set(siteId, siteName ?? '');
  return [...sites]
    .map(([siteId, siteName]): SiteVisit => {
      const here = days.filter((day) => day.siteId === siteId);
      const nucs = nucVisits(here);
      const trouble = urgent.filter((alert) => alert.siteId === siteId && alert.bring.length > 0);
      const due = here.filter((day) => day.steps.some(isDue));
      const visited = new Set(nucs.filter(({ steps }) => steps.length > 0).map(({ nucId }) => nucId));
      const beside = trouble.filter(({ subject }) => subject.nucIds.some((id) => !visited.has(id)));
      return {
        siteId,
        siteName,
        nucs,
        bring: unique([...due.flatMap((day) => day.bring), ...trouble.flatMap((alert) => alert.bring)]),
        help: unique(beside.map((alert) => alert.subject.name)),
        clashes: unique(due.flatMap((day) => day.clashes)),
      };
    })
    .filter(({ nucs, bring }) => nucs.length > 0 || bring.length > 0)
    .sort((a, b) => byName(a.siteName, b.siteName));
}

const isDue = (step: PlanStepDto): boolean => step.state !== 'done' && step.blockedBy === undefined;

function nucVisits(days: PlanDto['items']): readonly NucVisit[] {
  const nucs = new Map<string, PlanStepDto[]>();
  for (const step of days.flatMap(({ steps }) => steps.filter(({ state }) => state !== 'done')))
    nucs.set(step.nucId, [...(nucs.get(step.nucId) ?? []), step]);
  return [...nucs]
    .map(([nucId, steps]) => ({
      nucId,
      nucName: steps[0]?.nucName ?? '',
      steps: steps.filter(isDue),
      blocked: steps.filter(({ blockedBy }) => blockedBy !== undefined),
    }))
    .sort((a, b) => byName(a.nucName, b.nucName));
}

/**
 * The last day on which the first of what is overdue was to be done, for its target moves on with today; where its last day
 * is not over, the day for which it was planned.
 */
export function overdueSince(
  steps: readonly Pick<PlanStepDto, 'state' | 'target' | 'latest'>[],
  today: string,
  dayOf: (iso: string) => string,
): string | undefined {
  const overdue = steps.filter(({ state }) => state === 'overdue');
  const firstBeforeToday = (days: string[]): string | undefined =>
    days.filter((day) => day < today).sort()[0];
  return (
    firstBeforeToday(overdue.map(({ latest }) => dayOf(latest))) ??
    firstBeforeToday(overdue.map(({ target }) => dayOf(target)))
  );
}

/** Nobody can do anything about a queen who is late, and what is due in the nuc goes first. */
const withoutLateQueen = (open: readonly PlanStepDto[]): readonly PlanStepDto[] => {
  const others = open.filter(({ kind, state }) => kind !== 'queen-arrives' || state !== 'overdue');
  return others.some(({ state }) => state === 'due' || state === 'overdue') ? others : open;
};

/**
 * The first visit of a nuc that can be made, with all that belong to its day; what is only offered where nothing else is
 * left, and what waits for her last.
 */
export function nextSteps(
  plan: readonly PlanStepDto[],
  dayOf: (iso: string) => string,
): readonly PlanStepDto[] {
  const open = [...withoutLateQueen(plan.filter(isDue))].sort(
    (a, b) => Date.parse(a.target) - Date.parse(b.target),
  );
  const planned = open.filter(({ offered }) => offered !== true);
  const dated = open.filter(({ afterArrivalDays }) => afterArrivalDays === undefined);
  const steps = [planned, dated].find((some) => some.length > 0) ?? open;
  const first = steps[0];
  return first ? steps.filter((step) => dayOf(step.target) === dayOf(first.target)) : [];
}

/** `Cut the cells, hang the cage`. */
export const stepsInWords = (steps: readonly PlanStepDto[]): string =>
  steps
    .map(({ label, whatToDo }) => label ?? whatToDo)
    .map((words, i) => (i === 0 ? words : words.charAt(0).toLocaleLowerCase() + words.slice(1)))
    .join(', ');

export interface DayAhead {
  readonly date: string;
  readonly sites: readonly {
    readonly siteName: string;
    readonly nucs: readonly NucVisit[];
    readonly clashes: readonly string[];
  }[];
}

/** The days after today on which something is to be done. */
export function daysAhead(plan: PlanDto, today: string): readonly DayAhead[] {
  const dates = unique(plan.items.map(({ date }) => date).filter((date) => date > today)).sort();
  return dates
    .map((date) => ({
      date,
      sites: plan.items
        .filter((day) => day.date === date)
        .map((day) => ({ siteName: day.siteName, nucs: nucVisits([day]), clashes: day.clashes }))
        .filter(({ nucs }) => nucs.length > 0),
    }))
    .filter(({ sites }) => sites.length > 0);
}
