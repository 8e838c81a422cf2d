import type { Rail } from '../../server/contract/nucs.ts';

/** A queen may be caged, or a step planned, before the split. */
export function firstDay(rail: Rail): number {
  const days = [0, ...rail.visits.map((visit) => visit.day), ...rail.bars.map((bar) => bar.fromDay)];
  return Math.max(-10, Math.min(...days, rail.today));
}
