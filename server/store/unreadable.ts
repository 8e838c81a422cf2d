/** Rows that could not be read: left where they are, not used, and shown to the owner. Settings are read key by key elsewhere. */

export type UnreadableKind =
  | 'alert'
  | 'calibration'
  | 'forecast'
  | 'hive'
  | 'visit'
  | 'introduction'
  | 'log entry'
  | 'mapping'
  | 'message'
  | 'person'
  | 'readings';

export interface UnreadableRow {
  readonly what: UnreadableKind;
  readonly id: string;
}

/** A file full of damage needs no longer list. */
const most = 200;

export class UnreadableRows {
  readonly #rows = new Map<string, UnreadableRow>();

  /** In the order in which they were met, at most 200. */
  list(): UnreadableRow[] {
    return [...this.#rows.values()];
  }

  note(what: UnreadableKind, id: string): void {
    if (this.#rows.size < most) this.#rows.set(`${what} ${id}`, { what, id });
  }

  /** What `read` returns; undefined, and noted, where it throws. A row that was written anew is forgotten. */
  read<T>(what: UnreadableKind, id: string, read: () => T): T | undefined {
    try {
      const value = read();
      if (this.#rows.size > 0) this.#rows.delete(`${what} ${id}`);
      return value;
    } catch {
      this.note(what, id);
      return undefined;
    }
  }

  /** As `read`, for `flatMap`: a list of one, or an empty one. */
  listed<T>(what: UnreadableKind, id: string, read: () => T): readonly T[] {
    const value = this.read(what, id, () => ({ value: read() }));
    return value ? [value.value] : [];
  }
}
