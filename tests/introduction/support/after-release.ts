/** A textbook course up to her release, and what is met in the weeks after it. */
import { split, type Entries } from './conditions.ts';
import { at, cells, facts } from './field-log.ts';

type Entry = Entries[number];
type Look = Parameters<typeof facts.looked>[0];

export const course: Entries = [
  split,
  [at(7), facts.cut({ sealed: 8 })],
  [at(7, 10.5), facts.hung()],
  [at(10), facts.cut()],
];
/** Let out on day 10. */
export const out: Entries = [...course, [at(10, 11), facts.opened()]];
/** She was seen, and no egg. */
export const looked = (day: number, over: Look = {}): Entry => [
  at(day),
  facts.looked({ eggsSeen: false, ...over }),
];
export const missed = (day: number): Entry => looked(day, { queenSeen: false });
export const eggs = (day: number, over: Look = {}): Entry => looked(day, { eggsSeen: true, ...over });
export const sealed = (day: number): Entry => eggs(day, { sealedWorkerBroodSeen: true });
export const drones = (day: number): Entry => eggs(day, { droneBroodInWorkerCells: true });
export const several = (day: number): Entry => eggs(day, { severalEggsACell: true });
export const ended = (day: number): Entry => [at(day), { kind: 'outcome', outcome: 'accepted' }];
export const dead = (day: number): Entry => [at(day), { kind: 'queen-dead' }];
export const flownOff = (day: number): Entry => [at(day), { kind: 'queen-escaped', to: 'outside' }];
export const cellSeen = { cells: cells({ sealed: 1 }) };
