/** May the candy end be opened, or the mesh lifted? */
import { gateAt } from './views.ts';

export const mayOpenCandy = gateAt('open-candy');
