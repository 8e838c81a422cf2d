/** Words along the line, each on the first lane where it does not run into another. */

export interface Wanted {
  readonly at: number;
  readonly text: string;
}
export interface Placed extends Wanted {
  readonly lane: number;
  /** Left edge of the words. */
  readonly left: number;
}

/** Mean advance of a character at 13 px in the page's fonts, with a little to spare. */
const perCharacterPx = 7.4;
const gapPx = 10;

export const wordsWidth = (text: string): number => text.length * perCharacterPx;

/** Cut at its end where it is too wide for the room. */
export function fitted(text: string, room: number): string {
  const most = Math.max(2, Math.floor(room / perCharacterPx));
  const letters = [...text];
  return letters.length <= most
    ? text
    : `${letters
        .slice(0, most - 1)
        .join('')
        .trimEnd()}…`;
}

/** Words stay within `[0, width]`; those that find no lane go on the last one, at the risk of touching. */
export function placeLabels(wanted: readonly Wanted[], width: number, lanes: number): readonly Placed[] {
  const endOf = new Array<number>(lanes).fill(-Infinity);
  return [...wanted]
    .sort((a, b) => a.at - b.at)
    .map((label) => {
      const wide = wordsWidth(label.text);
      const left = Math.max(0, Math.min(width - wide, label.at - wide / 2));
      let lane = endOf.findIndex((end) => left >= end + gapPx);
      if (lane < 0) lane = endOf.indexOf(Math.min(...endOf));
      endOf[lane] = left + wide;
      return { ...label, lane, left };
    });
}

export const lanesUsed = (placed: readonly Placed[]): number =>
  placed.reduce((most, { lane }) => Math.max(most, lane + 1), 0);
