/** A story as a keeper's diary tells it: how the nuc began, what was written down on which day, and the answer expected on given days. */
import type { BroodFinding } from '../../../server/introduction/after-acceptance.ts';
import type { FactPayload } from '../../../server/introduction/facts.ts';
import type { IntroductionSetup } from '../../../server/introduction/state.ts';
import { facts } from './field-log.ts';

/** `day 7, 10:30` on the site's clock; day 0 is 1 May. */
export type When = `day ${number}, ${number}:${number}`;

export type Answer = 'go' | 'wait' | 'stop';

/** What the keeper may ask, in the keeper's words. */
export type Question = 'cut the cells' | 'hang the cage' | 'let her out' | 'look for her';

/** What may be due, as the plan's list calls it. */
export type Visit =
  | 'Cut the cells'
  | 'Second look for cells'
  | 'One more look for cells'
  | 'Hang the cage'
  | 'Press the mesh over her'
  | 'Open the candy end'
  | 'Lift the mesh'
  | 'Look for the queen'
  | 'Look again for the queen'
  | 'Put a test frame in'
  | 'Take the test frame out';

export interface Expected {
  readonly on: When;
  readonly may?: Partial<Readonly<Record<Question, Answer>>>;
  /** Words that stand in the reasons of the answers that were asked for. */
  readonly says?: string;
  /** Due by the end of that day, and neither done nor blocked. */
  readonly due?: readonly Visit[];
  readonly notDue?: readonly Visit[];
  /** Its day has come, and something forbids it. */
  readonly blocked?: readonly Visit[];
  readonly stage?: string;
  /** What her brood shows. */
  readonly finding?: BroodFinding;
}

type Diary = readonly (readonly [when: When, what: FactPayload])[];

export interface Story {
  readonly name: string;
  readonly setup?: Partial<IntroductionSetup>;
  /** The introduction in the same nuc that ended before this one. */
  readonly before?: { readonly setup?: Partial<IntroductionSetup>; readonly diary: Diary };
  readonly diary: Diary;
  readonly expect: readonly Expected[];
}

export { facts as wrote };

/** Split on day 0, cells cut on day 7 and the cage hung, looked through on day 10. */
export const usualCourse: Diary = [
  ['day 0, 10:00', facts.split()],
  ['day 7, 10:00', facts.cut({ open: 1, sealed: 8 })],
  ['day 7, 10:30', facts.hung()],
  ['day 10, 10:00', facts.cut()],
];
