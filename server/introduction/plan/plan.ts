/** The plan of one introduction as a view of its acts: what is to be done, when, with what. */
import { placesOfActs } from '../acts/answer.ts';

export type { PlanOptions, PlanStep } from '../acts/plan-step.ts';

export const planIntroduction = placesOfActs;
