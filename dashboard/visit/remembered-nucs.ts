/** The nucs as they were last known, so that a visit can be logged in a page opened without signal. */
import { effect } from '@preact/signals';
import type { NucSummary, PlanStepDto } from '../../server/contract/nucs.ts';
import { byName } from '../format/names.ts';
import { knownZoneOf } from '../parts/site-zone.ts';
import { nearPlan, nucs } from '../state/farm.ts';
import { keep, recall } from '../state/preferences.ts';

export interface RememberedStep {
  readonly kind: string;
  readonly logAs?: string | undefined;
  readonly label: string;
  readonly state: string;
}

export interface RememberedNuc {
  readonly id: string;
  readonly name: string;
  readonly siteName: string;
  readonly siteId: string;
  /** Of the site, where it was known. */
  readonly timeZone?: string | undefined;
  readonly introductionId: string | null;
  readonly day: number | null;
  readonly step: RememberedStep | null;
  /** All that is due now, of which `step` is the first; not there where an older page remembered it. */
  readonly due?: readonly RememberedStep[];
  readonly setup?: NucSummary['setup'];
  /** May the queen be let out, as it stood then. */
  readonly candyGate?: NucSummary['candyGate'];
}

const key = 'welcomb.nucs';

const stepOf = ({ kind, logAs, label, whatToDo, state }: PlanStepDto): RememberedStep => ({
  kind,
  logAs,
  label: label ?? whatToDo,
  state,
});

const isDue = ({ state, blockedBy }: PlanStepDto): boolean =>
  (state === 'due' || state === 'overdue') && blockedBy === undefined;

function dueSteps(nucId: string): readonly RememberedStep[] {
  const days = nearPlan.snapshot.value.data?.items ?? [];
  return days.flatMap(({ steps }) => steps.filter((step) => step.nucId === nucId && isDue(step)).map(stepOf));
}

function remember(one: NucSummary): RememberedNuc {
  const next = one.nextStep && isDue(one.nextStep) ? [stepOf(one.nextStep)] : [];
  const planned = dueSteps(one.hive.id);
  return {
    id: one.hive.id,
    name: one.hive.name,
    siteName: one.siteName,
    siteId: one.hive.siteId,
    timeZone: knownZoneOf(one.hive.siteId),
    introductionId: one.introductionId,
    day: one.day,
    step: one.nextStep && stepOf(one.nextStep),
    due: planned.length > 0 ? planned : next,
    setup: one.setup,
    candyGate: one.candyGate,
  };
}

const inOrder = (items: readonly NucSummary[]): readonly RememberedNuc[] =>
  items.map(remember).sort((a, b) => byName(a.name, b.name));

effect(() => {
  const { data } = nucs.snapshot.value;
  if (data) keep(key, JSON.stringify(inOrder(data.items)));
});

export function rememberedNucs(): readonly RememberedNuc[] {
  const { data } = nucs.snapshot.value;
  if (data) return inOrder(data.items);
  try {
    return JSON.parse(recall(key) ?? '[]') as RememberedNuc[];
  } catch {
    return [];
  }
}
