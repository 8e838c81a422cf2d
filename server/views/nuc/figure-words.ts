/** The figure behind a reason, as the reader has it set. */
import { degC, grams, type Say } from '../../words/phrase.ts';

/** A bare share is said as one in so many: `0.09 1` tells a keeper nothing. */
export function figureWords(value: number | string, unit: string, say: Say): string {
  if (unit === 'Cel') return typeof value === 'number' ? say(degC(value)) : `${value} °C`;
  if (unit === 'g' && typeof value === 'number') return say(grams(value));
  if (unit !== '1') return `${String(value)} ${unit}`.trim();
  const share = Number(value);
  return share > 0 && share <= 0.5 ? `about 1 in ${String(Math.round(1 / share))}` : String(value);
}
