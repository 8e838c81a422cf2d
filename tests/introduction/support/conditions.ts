/** Tables of conditions: what is in the way on a day, and the act or the day that settles it. */
import { describe, expect, it } from 'vitest';
import type { Condition, MetBy } from '../../../server/introduction/acts/condition.ts';
import type { FactPayload } from '../../../server/introduction/log/facts.ts';
import type { IntroductionSetup } from '../../../server/introduction/log/setup.ts';
import { setFor } from '../../../server/words/phrase.ts';
import { at, facts, stateAt } from './field-log.ts';

const set = setFor({ timeZone: 'UTC', temperature: 'C', weight: 'kg' });

export type Entries = readonly (readonly [number, FactPayload])[];
export type Setup = Partial<IntroductionSetup>;

export const split = [at(0), facts.split()] as const;
export const hung = [at(7), facts.hung()] as const;
/** A test frame that was in for some days. */
export const frame = (inDay: number, outDay: number, cellsOnIt: number): Entries => [
  [at(inDay), facts.broodAdded({ asTestFrame: true })],
  [at(outDay), facts.broodTaken({ cellsOnIt })],
];

/** Met, not known, a fault that bars nothing, or what it asks for. */
export type Says = 'met' | 'unknown' | 'fault' | null | readonly ['wait' | 'stop', MetBy];
export const says = (condition: Condition | null | undefined): Says => {
  if (!condition) return null;
  const { unmet, reason } = condition;
  if (unmet) return [unmet.answer, unmet.metBy];
  if (reason.ok === 'unknown') return 'unknown';
  return reason.ok ? 'met' : 'fault';
};

export interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly now: number;
  readonly over?: Setup;
  readonly says: Says;
  /** Words of the reason. */
  readonly text?: string;
}
export const table = (
  what: string,
  condition: (state: ReturnType<typeof stateAt>) => Condition | null | undefined,
  rows: readonly Row[],
): void => {
  describe(what, () => {
    it.each(rows)('$name', ({ log, now, over, says: expected, text }) => {
      const told = condition(stateAt(log, now, over));
      expect(says(told)).toEqual(expected);
      if (text) expect(set(told?.reason.text ?? '')).toContain(text);
    });
  });
};
