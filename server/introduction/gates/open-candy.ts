export { mayOpenCandy } from './views.ts';
