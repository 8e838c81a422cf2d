export { mayCutCells } from './views.ts';
