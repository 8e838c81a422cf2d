/** The figure behind a reason, as the reader has it set. */
import { degC, grams, metres, type Figure, type Say } from '../../words/phrase.ts';

const figures: Readonly<Record<string, (value: number) => Figure>> = { Cel: degC, g: grams, m: metres };

/** A bare share is said as one in so many: `0.09 1` tells a keeper nothing. */
export function figureWords(value: number, unit: string, say: Say): string {
  const figure = figures[unit]?.(value);
  if (figure) return say(figure);
  if (unit !== '1') return `${String(value)} ${unit}`;
  return value > 0 && value <= 0.5 ? `about 1 in ${String(Math.round(1 / value))}` : String(value);
}
