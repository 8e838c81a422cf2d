/** May the caged queen be hung, candy end closed, or the mesh pressed over her? */
import { gateAt } from './views.ts';

export const mayHangCage = gateAt('hang-cage');
