/**
 * Nucs in which something was written down that the answers shown do not know of yet. An answer that was asked for
 * before the entry was stored may still say "go": until one is asked for after it, none is shown.
 */
import { signal } from '@preact/signals';
import type { NucDetail, NucSummary } from '../../server/contract/nucs.ts';
import type { PlanDto } from '../../server/contract/plan.ts';

/** By nuc: the last moment, counted in turns, at which what the server knows of it changed. */
const changedIn = new Map<string, number>();
let turn = 0;

/** Nucs with entries that the server has not stored. */
export const awaited = signal<ReadonlySet<string>>(new Set());

/** The entries of these nucs, and of no others, are still to be stored. */
export function setAwaited(nucIds: ReadonlySet<string>): void {
  for (const id of new Set([...nucIds, ...awaited.peek()])) {
    if (nucIds.has(id) !== awaited.peek().has(id)) noteChange(id);
  }
  awaited.value = nucIds;
}

export function noteChange(nucId: string): void {
  turn += 1;
  changedIn.set(nucId, turn);
}

/** Called when an answer is asked for; what it gives says of which nucs the answer is too old. */
export function askedNow(): (nucId: string) => boolean {
  const askedIn = turn;
  const before = awaited.peek();
  return (nucId) => before.has(nucId) || awaited.peek().has(nucId) || (changedIn.get(nucId) ?? 0) > askedIn;
}

type IsOld = (nucId: string) => boolean;

const noAnswer = { candyGate: null, nextStep: null } as const;

export const summaryWithout = (one: NucSummary, isOld: IsOld): NucSummary =>
  isOld(one.hive.id) ? { ...one, ...noAnswer } : one;

export const detailWithout = (one: NucDetail, isOld: IsOld): NucDetail =>
  isOld(one.hive.id) ? { ...one, ...noAnswer, gates: [], plan: [] } : one;

export const planWithout = (plan: PlanDto, isOld: IsOld): PlanDto => ({
  ...plan,
  items: plan.items.map((day) => ({
    ...day,
    steps: day.steps.filter(({ nucId, state }) => state === 'done' || !isOld(nucId)),
  })),
});
