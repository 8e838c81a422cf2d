/** What to do where a device tells the wrong time, be it ahead or behind. */
import { say } from '../../../words/phrase.ts';

export const setTheClock = say`Set the device’s clock: it must send UTC. A local time without its offset is hours off.`;
