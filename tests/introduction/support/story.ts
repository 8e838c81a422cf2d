/** A story as a keeper's diary tells it: how the nuc began, what was written down on which day, and the answer expected on given days. */
import type { BroodFinding } from '../../../server/introduction/after-acceptance.ts';
import type { ActKind } from '../../../server/introduction/acts/draft.ts';
import type { FactPayload } from '../../../server/introduction/log/facts.ts';
import type { IntroductionSetup } from '../../../server/introduction/state.ts';
import { facts } from './field-log.ts';

/** `day 7, 10:30` on the site's clock; day 0 is 1 May. */
export type When = `day ${number}, ${number}:${number}`;

export type Answer = 'go' | 'wait' | 'stop';

/** What the keeper may ask, in the keeper's words. */
export type Question = 'cut the cells' | 'hang the cage' | 'let her out' | 'look for her';

/** What may be due, as the plan's list calls it. */
export type Visit =
  | 'Make the split'
  | 'Find the old queen and take her away'
  | 'Look through every frame'
  | 'Early cut of cells'
  | 'Cut the cells'
  | 'Second look for cells'
  | 'One more look for cells'
  | 'Add bees, count the frames'
  | 'Hang the cage'
  | 'Press the mesh over her'
  | 'Watch the bees at the cage'
  | 'Take one of the two cages out'
  | 'See who sits in the cage'
  | 'Open the candy end'
  | 'Tape the candy end again'
  | 'Lift the mesh'
  | 'Free her from the cage'
  | 'Look for the queen'
  | 'Look again for the queen'
  | 'Look again for cells'
  | 'Cut the cell that was seen'
  | 'Look for cells beside her'
  | 'Find the loose queen and take her away'
  | 'Queen arrives'
  | 'The next queen arrives'
  | 'Give a frame of open brood'
  | 'Call the bee inspector'
  | 'Check the sealed brood'
  | 'Graft from her'
  | 'Unite it, or shake it out'
  | 'Log how it ended'
  | 'Put a test frame in'
  | 'Take the failing queen out'
  | 'Take the test frame out';

export interface Expected {
  readonly on: When;
  readonly may?: Partial<Readonly<Record<Question, Answer>>>;
  /** Words that stand in the reasons of the answers that were asked for. */
  readonly says?: string;
  /** Words that stand in none of them. */
  readonly notSays?: string;
  /** Due by the end of that day, and neither done nor blocked. */
  readonly due?: readonly Visit[];
  readonly notDue?: readonly Visit[];
  /** Its day has come, and something forbids it. */
  readonly blocked?: readonly Visit[];
  readonly stage?: string;
  /** The day until which a question is answered with wait. */
  readonly until?: Partial<Readonly<Record<Question, number>>>;
  /** May be done, and is not asked for. */
  readonly offered?: readonly Visit[];
  /** Acts that have no place in the plan, done or to be done. */
  readonly without?: readonly ActKind[];
  /** On which day open acts are planned, and the last day of their windows. */
  readonly planned?: Partial<Readonly<Record<ActKind, number>>>;
  readonly latest?: Partial<Readonly<Record<ActKind, number>>>;
  /** Acts that have no date but so many days after she comes. */
  readonly afterSheComes?: Partial<Readonly<Record<ActKind, number>>>;
  /** Words of the stage: its name and line. */
  readonly stands?: string;
  /** Words in what is to be done and why, by act. */
  readonly todo?: Partial<Readonly<Record<ActKind, readonly string[]>>>;
  /** How many contradictions stand in the log. */
  readonly contradictions?: number;
  /** What her brood shows. */
  readonly finding?: BroodFinding;
  readonly findingSays?: string;
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
