/** Steps of the plan as trips to a site. Pure. */
import type { PlanStepDto } from '../../server/contract/nucs.ts';
import type { PlanDto } from '../../server/contract/plan.ts';

type Day = PlanDto['items'][number];

export interface Trip {
  readonly when: 'overdue' | 'today' | 'later';
  readonly day: Day;
  readonly steps: readonly PlanStepDto[];
}

/** The steps that are still to be done, by trip: overdue ones first, then today's, then the next days'. */
export function tripsOf(plan: PlanDto, today: string): readonly Trip[] {
  const rank = { overdue: 0, today: 1, later: 2 } as const;
  return plan.items
    .map((day): Trip => {
      const steps = day.steps.filter((step) => step.state !== 'done');
      const when = day.date < today ? 'overdue' : day.date === today ? 'today' : 'later';
      return { when, day, steps };
    })
    .filter((trip) => trip.steps.length > 0)
    .sort((a, b) => rank[a.when] - rank[b.when] || a.day.date.localeCompare(b.day.date));
}

/** Steps with the same thing to do are told once, with their nucs behind. */
export function sameWork(steps: readonly PlanStepDto[]): readonly (readonly PlanStepDto[])[] {
  const groups = new Map<string, PlanStepDto[]>();
  for (const step of steps) {
    const key = `${step.kind}\n${step.whatToDo}`;
    groups.set(key, [...(groups.get(key) ?? []), step]);
  }
  return [...groups.values()];
}
