/** What is wrong with a reading, as the store keeps it. */
import { isDoubtful, isWrongClock, type SuspectCode } from '../store/readings/day-readings.ts';
import type { Flags } from './channel-state.ts';

export const flagsOf = (code: SuspectCode): Flags => ({
  suspect: code !== 0,
  doubtful: isDoubtful(code),
  wrongClock: isWrongClock(code),
});
