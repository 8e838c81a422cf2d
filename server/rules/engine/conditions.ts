/** The comparisons that rules are made of, each leaving behind what it compared. */
import type { FigureUnit, Sentence } from '../../words/phrase.ts';
import { setFor, type Display } from '../../words/phrase.ts';
import type { Condition } from './types.ts';

export const atLeast = (name: string, value: number | null, limit: number, unit: FigureUnit): Condition => ({
  name,
  value,
  limit,
  unit,
  met: value === null ? null : value >= limit,
});

export const atMost = (name: string, value: number | null, limit: number, unit: FigureUnit): Condition => ({
  name,
  value,
  limit,
  unit,
  met: value === null ? null : value <= limit,
});

export const below = (name: string, value: number | null, limit: number, unit: FigureUnit): Condition => ({
  name,
  value,
  limit,
  unit,
  met: value === null ? null : value < limit,
});

export const above = (name: string, value: number | null, limit: number, unit: FigureUnit): Condition => ({
  name,
  value,
  limit,
  unit,
  met: value === null ? null : value > limit,
});

/** Something that is so or not; `wanted` says in words when the condition is met. */
export const holds = (name: string, met: boolean | null, value: Sentence, wanted: string): Condition => ({
  name,
  value,
  limit: wanted,
  unit: '',
  met,
});

/** A condition set for a reader. */
export function setCondition({ name, value, limit, unit, met }: Condition, display: Display) {
  const say = setFor(display);
  const set = (side: Condition['value'], other: Condition['value']): string =>
    side === null
      ? 'not known'
      : typeof side !== 'number'
        ? say(side)
        : say(typeof other === 'number' ? { value: side, unit, limit: other } : { value: side, unit });
  return { name, value: set(value, limit), limit: set(limit, null), met };
}
