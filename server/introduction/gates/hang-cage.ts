export { mayHangCage } from './views.ts';
