/** How much one client may claim by its first packet and by what it subscribes to. Pure. */
import type { ConnectPacket } from 'aedes';

const maxClientIdCharacters = 128;
const maxWillBytes = 4096;
const maxFilters = 50;
const maxFilterCharacters = 500;

/** Undefined: the first packet is within bounds. */
export function whyTooLarge({ clientId, will }: ConnectPacket): string | undefined {
  if (clientId.length > maxClientIdCharacters)
    return `its client id has ${String(clientId.length)} characters, at most ${String(maxClientIdCharacters)}`;
  if (will && will.payload.length > maxWillBytes)
    return `its last will has ${String(will.payload.length)} bytes, at most ${String(maxWillBytes)}`;
  return undefined;
}

/** Whether a client with these filters may have this one too. */
export const hasRoomFor = (filters: ReadonlySet<string>, filter: string): boolean =>
  filter.length <= maxFilterCharacters && (filters.size < maxFilters || filters.has(filter));
