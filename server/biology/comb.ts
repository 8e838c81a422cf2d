/** Cells of a comb from its area and the width of its cells. */
import { cellsPerSquareFactor } from './population-figures.ts';

/** Cells on both sides of a square decimetre of comb with `cellsInTenCm` cells along 10 cm. Betts 1938. */
export const cellsPerSquareDm = (cellsInTenCm: number): number =>
  cellsInTenCm ** 2 * cellsPerSquareFactor.value;
