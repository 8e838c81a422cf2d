/** Steps of the plan as visits to a site. Pure. */
import type { PlanStepDto } from '../../server/contract/nucs.ts';
import type { PlanDto } from '../../server/contract/plan.ts';
import { byName } from '../format/names.ts';

type Day = PlanDto['items'][number];

export interface SiteVisit {
  readonly when: 'overdue' | 'today' | 'later';
  readonly day: Day;
  readonly steps: readonly PlanStepDto[];
}

/** The steps that are still to be done, by visit: overdue ones first, then today's, then the next days'. */
export function siteVisitsOf(plan: PlanDto, today: string): readonly SiteVisit[] {
  const rank = { overdue: 0, today: 1, later: 2 } as const;
  return plan.items
    .map((day): SiteVisit => {
      const steps = day.steps.filter((step) => step.state !== 'done');
      const when = day.date < today ? 'overdue' : day.date === today ? 'today' : 'later';
      return { when, day, steps };
    })
    .filter((siteVisit) => siteVisit.steps.length > 0)
    .sort((a, b) => rank[a.when] - rank[b.when] || a.day.date.localeCompare(b.day.date));
}

/** Steps with the same thing to do are told once, with their nucs behind in natural order. */
export function groupByTask(steps: readonly PlanStepDto[]): readonly (readonly PlanStepDto[])[] {
  const groups = new Map<string, PlanStepDto[]>();
  for (const step of steps) {
    const key = `${step.kind}\n${step.whatToDo}`;
    groups.set(key, [...(groups.get(key) ?? []), step]);
  }
  return [...groups.values()].map((group) => group.sort((a, b) => byName(a.nucName, b.nucName)));
}
