/** Entries about a queen by the day, and what they come to, for tests. */
import { expect } from 'vitest';
import { effectiveFacts } from '../../../server/introduction/log/effective-facts.ts';
import type { FactPayload, IntroductionMethod } from '../../../server/introduction/log/facts.ts';
import { foldQueen } from '../../../server/introduction/queen/queen.ts';
import type { QueenState } from '../../../server/introduction/queen/queen-state.ts';
import { at, facts, logOf } from './field-log.ts';

export type Entries = readonly (readonly [number, FactPayload])[];

export const queenOf = (log: Entries, method: IntroductionMethod = 'candy-cage'): QueenState =>
  foldQueen(effectiveFacts('intro-one', logOf(log), at(99)), method);

export const hung = (day: number, queenId = 'queen-one', over = {}): Entries[number] => [
  at(day),
  facts.hung({ queenId, ...over }),
];
export const came = (day: number, over: Parameters<typeof facts.arrived>[0] = {}): Entries[number] => [
  at(day),
  facts.arrived(over),
];
export const looked = (day: number, over: Parameters<typeof facts.looked>[0] = {}): Entries[number] => [
  at(day),
  facts.looked({ queenSeen: false, eggsSeen: false, ...over }),
];
export const through = (day: number, over: Parameters<typeof facts.inspection>[0]): Entries[number] => [
  at(day),
  facts.inspection(over),
];
export const cageOut = (day: number, queen?: 'in-the-cage' | 'left-in-nuc'): Entries[number] => [
  at(day),
  { kind: 'cage-taken-out', ...(queen && { queen }) },
];
export const escaped = (day: number, to: 'into-the-nuc' | 'outside'): Entries[number] => [
  at(day),
  { kind: 'queen-escaped', to },
];
export const taken = (day: number, which: 'old-queen' | 'virgin' | 'young-queen'): Entries[number] => [
  at(day),
  { kind: 'queen-removed', which },
];
export const dead = (day: number): Entries[number] => [at(day), { kind: 'queen-dead' }];
export const opened = (day: number): Entries[number] => [at(day), facts.opened()];
export const frame = (inDay: number, outDay: number, cellsOnIt: number): Entries => [
  [at(inDay), facts.broodAdded({ asTestFrame: true })],
  [at(outDay), facts.broodTaken({ cellsOnIt })],
];
export const out: Entries = [hung(7), opened(10)];
export const second: Entries = [...out, came(20, { queenId: 'queen-two' })];

export interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly method?: IntroductionMethod;
  readonly is: Partial<QueenState>;
}

export const check = ({ log, method, is }: Row): void => {
  expect(queenOf(log, method)).toMatchObject(is);
};
