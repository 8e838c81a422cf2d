/** May the nuc be opened to look for the queen? */
import { gateAt } from './views.ts';

export const mayLookForQueen = gateAt('look-for-queen');
