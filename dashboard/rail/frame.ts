/** Where a day and a distance from the line fall on the drawing: lying on a laptop, standing on a phone. */

export interface Frame {
  readonly standing: boolean;
  /** Along the line, px. */
  at(day: number): number;
  /** Where the line lies across, px. */
  readonly base: number;
  /** Room above (left of) the line, and below (right of) it, px. */
  readonly above: number;
  readonly below: number;
}

/** Days of a scale that many rails share. */
export interface Extent {
  readonly fromDay: number;
  readonly toDay: number;
}

export interface Point {
  readonly x: number;
  readonly y: number;
}

/** `off` > 0 is above a lying line and left of a standing one. */
export function pointAt(frame: Frame, day: number, off: number): Point {
  const along = frame.at(day);
  return frame.standing ? { x: frame.base - off, y: along } : { x: along, y: frame.base - off };
}

/** A single point ends in a stroke of no length, which round ends make a dot. */
export const pathOf = (points: readonly Point[]): string =>
  points.map(({ x, y }, i) => `${i === 0 ? 'M' : 'L'}${x.toFixed(1)} ${y.toFixed(1)}`).join('') +
  (points.length === 1 ? 'h0' : '');

/** Days to px, evenly. */
export function evenScale(fromDay: number, toDay: number, from: number, to: number): (day: number) => number {
  const perDay = (to - from) / Math.max(1e-9, toDay - fromDay);
  return (day) => from + (day - fromDay) * perDay;
}

/** Days to px where each day has its own height (its words may need more than one line). `tops[i]` is day `first + i`. */
export function rowScale(tops: readonly number[], first: number): (day: number) => number {
  return (day) => {
    const index = Math.min(tops.length - 2, Math.max(0, Math.floor(day) - first));
    const top = tops[index] ?? 0;
    const next = tops[index + 1] ?? top;
    return top + (day - first - index) * (next - top);
  };
}
