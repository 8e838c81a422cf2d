/** The nucs as they were last known, so that a visit can be logged in a page opened without signal. */
import { effect } from '@preact/signals';
import type { NucSummary } from '../../server/contract/nucs.ts';
import { byName } from '../format/names.ts';
import { nucs } from '../state/farm.ts';
import { keep, recall } from '../state/preferences.ts';

export interface RememberedNuc {
  readonly id: string;
  readonly name: string;
  readonly siteName: string;
  readonly siteId: string;
  readonly introductionId: string | null;
  readonly day: number | null;
  readonly stageText: string;
  readonly step: {
    readonly kind: string;
    readonly logAs?: string | undefined;
    readonly label: string;
    readonly whatToDo: string;
    readonly state: string;
    readonly target: string;
  } | null;
  /** Not there where an older page remembered it. */
  readonly setup?: NucSummary['setup'];
  /** May the queen be let out, as it stood then. */
  readonly candyGate?: NucSummary['candyGate'];
}

const key = 'welcomb.nucs';

const remember = (one: NucSummary): RememberedNuc => ({
  id: one.hive.id,
  name: one.hive.name,
  siteName: one.siteName,
  siteId: one.hive.siteId,
  introductionId: one.introductionId,
  day: one.day,
  stageText: one.stageText,
  step: one.nextStep && {
    kind: one.nextStep.kind,
    logAs: one.nextStep.logAs,
    label: one.nextStep.label ?? one.nextStep.whatToDo,
    whatToDo: one.nextStep.whatToDo,
    state: one.nextStep.state,
    target: one.nextStep.target,
  },
  setup: one.setup,
  candyGate: one.candyGate,
});

effect(() => {
  const { data } = nucs.snapshot.value;
  if (data) keep(key, JSON.stringify(data.items.map(remember)));
});

export function rememberedNucs(): readonly RememberedNuc[] {
  const { data } = nucs.snapshot.value;
  if (data) return data.items.map(remember).sort((a, b) => byName(a.name, b.name));
  try {
    return JSON.parse(recall(key) ?? '[]') as RememberedNuc[];
  } catch {
    return [];
  }
}
