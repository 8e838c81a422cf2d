import type { LogEntry } from '../api/facts.ts';

/** An entry that is written and not yet known to be stored by the server. */
export interface Unsent {
  readonly entry: LogEntry;
  /** Not there where an older page wrote it. */
  readonly nucId?: string;
  /** For the list of what is unsent, which has to make sense without the server. */
  readonly nucName: string;
  readonly words: string;
  /** What the server found wrong with it; empty while it has not been refused. */
  readonly problems: readonly string[];
}
