/** Introductions and their field log. The log is append-only; an entry sent twice is stored once. */
import * as z from 'zod';
import {
  logEntrySchema,
  type IntroductionMethod,
  type LogEntry,
  type StartingPoint,
} from '../../introduction/log/facts.ts';
import { canonicalJson, type Context } from '../context.ts';
import { StoreConflict } from '../errors.ts';

export interface Introduction {
  readonly id: string;
  readonly nucId: string;
  readonly startingPoint: StartingPoint;
  readonly method: IntroductionMethod;
  readonly queenId?: string;
  readonly arrivalId?: string;
  /** What else was decided when it was opened (planned split, limits …). */
  readonly setup: Readonly<Record<string, unknown>>;
  readonly openedAtMs: number;
  readonly closedAtMs?: number;
}

export interface LogWritten {
  readonly id: string;
  readonly result: 'stored' | 'already-there' | 'refused';
  readonly problems: readonly string[];
}

interface IntroductionRow {
  readonly id: string;
  readonly nuc_id: string;
  readonly starting_point: StartingPoint;
  readonly method: IntroductionMethod;
  readonly queen_id: string | null;
  readonly arrival_id: string | null;
  readonly setup: string;
  readonly opened_at: number;
  readonly closed_at: number | null;
}

export interface Introductions {
  /** Newest first. */
  list(options?: { readonly open?: boolean }): Introduction[];
  get(id: string): Introduction | undefined;
  ofNuc(nucId: string): Introduction[];
  /** The same introduction twice is opened once; another one with the same id throws `StoreConflict`. */
  open(introduction: Introduction): Introduction;
  /** Changes everything but id, nuc and opening. */
  update(introduction: Introduction): Introduction;
  close(id: string, atMs: number): void;
  reopen(id: string): void;
  /** Each entry is stored or refused by itself, all in one transaction. */
  append(entries: readonly LogEntry[]): LogWritten[];
  /** What the fold of an introduction needs: its own entries, and what corrections elsewhere move into it. */
  log(introductionId: string): LogEntry[];
  entry(id: string): LogEntry | undefined;
  /** Every entry of every introduction, oldest first. */
  allEntries(): LogEntry[];
}

/** Throws where the row can't be read. */
export const toIntroduction = (row: IntroductionRow): Introduction => ({
  id: row.id,
  nucId: row.nuc_id,
  startingPoint: row.starting_point,
  method: row.method,
  setup: z.record(z.string(), z.unknown()).parse(JSON.parse(row.setup)),
  openedAtMs: row.opened_at,
  ...(row.queen_id === null ? {} : { queenId: row.queen_id }),
  ...(row.arrival_id === null ? {} : { arrivalId: row.arrival_id }),
  ...(row.closed_at === null ? {} : { closedAtMs: row.closed_at }),
});

const toRow = (introduction: Introduction): IntroductionRow => ({
  id: introduction.id,
  nuc_id: introduction.nucId,
  starting_point: introduction.startingPoint,
  method: introduction.method,
  queen_id: introduction.queenId ?? null,
  arrival_id: introduction.arrivalId ?? null,
  setup: JSON.stringify(introduction.setup),
  opened_at: introduction.openedAtMs,
  closed_at: introduction.closedAtMs ?? null,
});

interface EntryRow {
  readonly id: string;
  readonly entry: string;
}

/** Throws where the row can't be read. */
export const toEntry = ({ entry }: EntryRow): LogEntry => logEntrySchema.parse(JSON.parse(entry));

const statements = (db: Context['db']) => ({
  all: db.prepare<[], IntroductionRow>('SELECT * FROM introduction ORDER BY opened_at DESC, id'),
  one: db.prepare<[string], IntroductionRow>('SELECT * FROM introduction WHERE id = ?'),
  ofNuc: db.prepare<[string], IntroductionRow>(
    'SELECT * FROM introduction WHERE nuc_id = ? ORDER BY opened_at DESC, id',
  ),
  nucKnown: db.prepare<[string]>('SELECT 1 FROM hive WHERE id = ?'),
  insert: db.prepare<[IntroductionRow]>(
    `INSERT INTO introduction (id, nuc_id, starting_point, method, queen_id, arrival_id, setup, opened_at, closed_at)
     VALUES (@id, @nuc_id, @starting_point, @method, @queen_id, @arrival_id, @setup, @opened_at, @closed_at)`,
  ),
  update: db.prepare<[IntroductionRow]>(
    `UPDATE introduction SET starting_point = @starting_point, method = @method, queen_id = @queen_id,
       arrival_id = @arrival_id, setup = @setup, closed_at = @closed_at
     WHERE id = @id`,
  ),
  setClosed: db.prepare<[number | null, string]>('UPDATE introduction SET closed_at = ? WHERE id = ?'),
  entryText: db.prepare<[string], string>('SELECT entry FROM log_entry WHERE id = ?').pluck(),
  addEntry: db.prepare(
    `INSERT INTO log_entry (id, introduction_id, happened_at, written_at, corrects, move_to, entry)
     VALUES (?, ?, ?, ?, ?, ?, ?)`,
  ),
  // Its own entries, facts that a correction elsewhere moves into it, and every correction of any of them.
  logOf: db.prepare<[string, string], EntryRow>(
    `WITH RECURSIVE mine (id) AS (
         SELECT id FROM log_entry WHERE introduction_id = ?
         UNION SELECT corrects FROM log_entry WHERE move_to = ?
         UNION SELECT log_entry.id FROM log_entry JOIN mine ON log_entry.corrects = mine.id)
       SELECT id, entry FROM log_entry JOIN mine USING (id) ORDER BY happened_at, written_at, id`,
  ),
  everything: db.prepare<[], EntryRow>(
    'SELECT id, entry FROM log_entry ORDER BY happened_at, written_at, id',
  ),
});

type Statements = ReturnType<typeof statements>;

/** Stores it or says why not. */
function append({ one, entryText, addEntry }: Statements, entry: LogEntry): LogWritten {
  const text = canonicalJson(entry);
  const there = entryText.get(entry.id);
  if (there === text) return { id: entry.id, result: 'already-there', problems: [] };
  if (there !== undefined) {
    return refused(entry.id, `Another entry is stored under the id ${entry.id}: write a correction instead.`);
  }
  if (!one.get(entry.introductionId)) {
    return refused(entry.id, `There is no introduction ${entry.introductionId}.`);
  }
  const moveTo = entry.type === 'correction' ? entry.moveTo : undefined;
  if (moveTo !== undefined && !one.get(moveTo)) {
    return refused(entry.id, `There is no introduction ${moveTo} to move it to.`);
  }
  const corrects = entry.type === 'correction' ? entry.corrects : null;
  addEntry.run(
    entry.id,
    entry.introductionId,
    entry.happenedAtMs,
    entry.writtenAtMs,
    corrects,
    moveTo ?? null,
    text,
  );
  return { id: entry.id, result: 'stored', problems: [] };
}

export function introductions(context: Context): Introductions {
  const { db, unreadable } = context;
  const prepared = statements(db);
  const { all, one, ofNuc, nucKnown, insert, update, setClosed, entryText, logOf, everything } = prepared;

  const readIntroductions = (rows: readonly IntroductionRow[]): Introduction[] =>
    rows.flatMap((row) => unreadable.listed('introduction', row.id, () => toIntroduction(row)));
  const readEntries = (rows: readonly EntryRow[]): LogEntry[] =>
    rows.flatMap((row) => unreadable.listed('log entry', row.id, () => toEntry(row)));

  const get = (id: string): Introduction | undefined => {
    const row = one.get(id);
    return row && readIntroductions([row])[0];
  };

  return {
    list: ({ open } = {}) =>
      readIntroductions(all.all().filter((row) => open === undefined || (row.closed_at === null) === open)),
    get,
    ofNuc: (nucId) => readIntroductions(ofNuc.all(nucId)),
    open: (introduction) =>
      context.write(() => {
        const there = get(introduction.id);
        if (there) {
          if (there.nucId === introduction.nucId) return there;
          throw new StoreConflict(`The introduction ${introduction.id} belongs to another nuc.`);
        }
        const { nucId } = introduction;
        if (!nucKnown.get(nucId)) throw new StoreConflict(`There is no nuc ${nucId}.`);
        insert.run(toRow(introduction));
        return introduction;
      }),
    update: (introduction) =>
      context.write(() => {
        const { changes } = update.run(toRow(introduction));
        if (changes === 0) throw new StoreConflict(`There is no introduction ${introduction.id}.`);
        return introduction;
      }),
    close: (id, atMs) => {
      context.write(() => setClosed.run(atMs, id));
    },
    reopen: (id) => {
      context.write(() => setClosed.run(null, id));
    },
    append: (entries) => context.write(() => entries.map((entry) => append(prepared, entry))),
    log: (introductionId) => readEntries(logOf.all(introductionId, introductionId)),
    entry(id) {
      const text = entryText.get(id);
      return text === undefined ? undefined : readEntries([{ id, entry: text }])[0];
    },
    allEntries: () => readEntries(everything.all()),
  };
}

const refused = (id: string, problem: string): LogWritten => ({ id, result: 'refused', problems: [problem] });
