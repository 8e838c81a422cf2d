/** How long the candy keeps the queen in her cage once its end is open. */
import { msPerHour } from '../../biology/duration.ts';
import { candyEatenHours, highEnd, lowEnd } from '../../biology/figures.ts';

/** Before that she can’t be out. */
export const candyHoldsMs = (openedMs: number): number => openedMs + lowEnd(candyEatenHours) * msPerHour;

/** On which the bees are through it as a rule. */
export const candyEatenMs = (openedMs: number): number => openedMs + candyEatenHours.value * msPerHour;

/** The bees are through it by then. */
export const candyGoneMs = (openedMs: number): number => openedMs + highEnd(candyEatenHours) * msPerHour;
