/** May cells be cut now? Late enough that no other can be started, early enough that no virgin is out. */
import { gateAt } from './views.ts';

export const mayCutCells = gateAt('cut-cells');
