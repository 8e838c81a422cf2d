/** The calendar of everything that is planned, for phones that subscribe to it. */
import { calendarFeed } from '../../introduction/plan/calendar-feed.ts';
import type { PlanStep } from '../../introduction/acts/plan-step.ts';
import type { Marks } from '../../store/marks.ts';
import { StoreUnavailable } from '../../store/store.ts';
import type { Display } from '../../words/phrase.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';

export interface CalendarOptions {
  readonly farmName: string;
  readonly display: Display;
  readonly nowMs: number;
  /** Keep what was last given out of each event. */
  readonly marks: Marks;
  readonly reminderH: number | null;
}

/** What phones were last told of an event: when it begins, and in which revision. */
export const startMark = (stepId: string): string => `calendar start ${stepId}`;
export const revisionMark = (stepId: string): string => `calendar revision ${stepId}`;
/** A step that is done differs from one that was planned for the same instant. */
const toldOf = (step: PlanStep): number => (step.done ? step.done.atMs + 1 : step.targetMs);

export function calendarText(analyses: readonly NucAnalysis[], options: CalendarOptions): string {
  const { farmName, display, nowMs, marks, reminderH } = options;
  const planned = analyses.map(({ nuc, site, plan }) => ({
    nuc,
    site,
    plan: plan.filter(({ offered }) => !offered),
  }));
  const revisions = revisionsOf(
    planned.flatMap(({ plan }) => plan),
    marks,
  );
  const steps = planned.flatMap(({ plan, nuc, site }) =>
    plan.map((step) => ({
      step,
      nucName: nuc.name,
      siteName: site.name,
      revision: revisions.get(step.id) ?? 0,
    })),
  );
  const name = farmName === '' ? 'Nucs' : farmName;
  return calendarFeed(steps, { name, display, nowMs, uidDomain: 'welcomb.local', reminderH });
}

/** An event's revision grows when it moves, whatever moved it; so a phone that has an older one moves it too. */
function revisionsOf(steps: readonly PlanStep[], marks: Marks): ReadonlyMap<string, number> {
  const revisions = new Map<string, number>();
  const changed = new Map<string, number>();
  for (const step of steps) {
    const start = toldOf(step);
    const known = marks.get(startMark(step.id));
    const last = marks.get(revisionMark(step.id)) ?? 0;
    const revision = known === undefined || known === start ? last : last + 1;
    revisions.set(step.id, revision);
    if (known === start) continue;
    changed.set(startMark(step.id), start);
    changed.set(revisionMark(step.id), revision);
  }
  if (changed.size > 0) keep(changed, marks);
  return revisions;
}

/** On a full disk phones still get their calendar; the next one that asks is told the same revision. */
function keep(changed: ReadonlyMap<string, number>, marks: Marks): void {
  try {
    marks.setAll(changed);
  } catch (error) {
    if (!(error instanceof StoreUnavailable)) throw error;
  }
}
