/** A chance from 0 to 1 in per cent: to a tenth under 10 %, and never as a figure that it is too small for. */
export const chanceInWords = (chance: number): string =>
  chance < 0.005 ? 'under 1 %' : `${(100 * chance).toFixed(chance < 0.1 ? 1 : 0)} %`;
