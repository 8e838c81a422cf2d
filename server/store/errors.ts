/** What can go wrong with the store, each as one sentence for the owner. */
import { accessSync, constants } from 'node:fs';
import Database from 'better-sqlite3';
import { UserError } from '../user-error.ts';

export type UnavailableKind = 'disk-full' | 'locked' | 'read-only' | 'damaged' | 'input-output';

/** Nothing of what was asked was stored; the same call may succeed later. */
export class StoreUnavailable extends UserError {
  override readonly name = 'StoreUnavailable';
  readonly kind: UnavailableKind;

  constructor(kind: UnavailableKind, message: string, cause?: unknown) {
    super('store-unavailable', message, { cause, retryAfterS: 10 });
    this.kind = kind;
  }
}

const damagedSentence = (file: string): string =>
  `${file} is damaged: stop the server and restore the newest backup.`;

/** The file is not a database this program may use; it was left as it is. */
export class StoreRefused extends UserError {
  override readonly name = 'StoreRefused';

  constructor(message: string, details: { readonly cause?: unknown } = {}) {
    super('unusable-file', message, details);
  }
}

/** What was asked contradicts what is stored (a channel in two places, an unknown hive); nothing was changed. */
export class StoreConflict extends UserError {
  override readonly name = 'StoreConflict';

  constructor(message: string) {
    super('conflict', message);
  }
}

const readOnlySentence = (file: string): string =>
  `${file} can't be written: check the folder's permissions and whether the disk is mounted read-only.`;

const sentences: readonly (readonly [RegExp, UnavailableKind, (file: string) => string])[] = [
  [
    /^SQLITE_FULL/,
    'disk-full',
    (file) => `The disk that holds ${file} is full: free some space; nothing was lost.`,
  ],
  [
    /^SQLITE_(BUSY|LOCKED)/,
    'locked',
    (file) => `Another program holds ${file} locked: close it; storing goes on by itself.`,
  ],
  [/^SQLITE_(READONLY|PERM|CANTOPEN|AUTH)/, 'read-only', (file) => readOnlySentence(file)],
  [/^SQLITE_(CORRUPT|NOTADB|FORMAT)/, 'damaged', (file) => damagedSentence(file)],
  [
    /^SQLITE_IOERR/,
    'input-output',
    (file) => `The disk that holds ${file} reports an error: check the card or disk and its free space.`,
  ],
];

/** The same error, or a `StoreUnavailable` where the database itself could not do its work. */
export function toStoreError(error: unknown, file: string): unknown {
  if (!(error instanceof Database.SqliteError)) return error;
  const known = sentences.find(([code]) => code.test(error.code));
  if (!known) return error;
  // A file that was open before its disk became read-only answers with no more than an error of input or output.
  if (known[1] === 'input-output' && !mayWrite(file))
    return new StoreUnavailable('read-only', readOnlySentence(file), error);
  return new StoreUnavailable(known[1], known[2](file), error);
}

/** False as well where the file is not there any more. */
function mayWrite(file: string): boolean {
  try {
    accessSync(file, constants.W_OK);
    return true;
  } catch {
    return false;
  }
}
