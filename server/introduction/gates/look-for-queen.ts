export { mayLookForQueen } from './views.ts';
