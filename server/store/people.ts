/** People, their sessions and API tokens, and who did what. Secrets come in hashed and stay so. */
import type { Context } from './context.ts';
import { StoreConflict } from './errors.ts';

export type Role = 'keeper' | 'helper' | 'viewer';

export interface Person {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
  readonly passwordHash: string;
  readonly createdAtMs: number;
}

export interface Session {
  readonly secretHash: string;
  readonly personId: string;
  readonly csrf: string;
  readonly createdAtMs: number;
  readonly expiresAtMs: number;
}

export interface Token {
  readonly id: string;
  readonly secretHash: string;
  readonly personId: string;
  readonly name: string;
  /** 'read', 'log', 'all', 'calendar' … */
  readonly scope: string;
  readonly createdAtMs: number;
  readonly lastUsedAtMs: number | null;
}

export interface AuditLine {
  readonly atMs: number;
  readonly who: string;
  readonly what: string;
}

export interface People {
  list(): Person[];
  get(id: string): Person | undefined;
  byName(name: string): Person | undefined;
  /** Throws `StoreConflict` where the name is taken. */
  add(person: Person): void;
  /** Also ends all sessions of the person, and the API tokens unless they are kept; returns how many tokens ended. */
  setPassword(id: string, passwordHash: string, options?: { readonly keepTokens?: boolean }): number;
  /** Throws `StoreConflict` rather than leave no keeper. */
  setRole(id: string, role: Role): void;
  remove(id: string): void;

  addSession(session: Session): void;
  /** Undefined for an unknown or expired one. */
  session(secretHash: string, nowMs: number): { session: Session; person: Person } | undefined;
  extendSession(secretHash: string, expiresAtMs: number): void;
  endSession(secretHash: string): void;
  endSessionsOf(personId: string): number;
  dropExpiredSessions(nowMs: number): number;

  addToken(token: Omit<Token, 'lastUsedAtMs'>): void;
  token(secretHash: string): { token: Token; person: Person } | undefined;
  tokens(personId?: string): Token[];
  tokenUsed(id: string, atMs: number): void;
  removeToken(id: string): boolean;

  noteAudit(who: string, what: string): void;
  /** Newest first. */
  audit(limit?: number): AuditLine[];
}

interface PersonRow {
  readonly id: string;
  readonly name: string;
  readonly role: Role;
  readonly password_hash: string;
  readonly created_at: number;
}

interface SessionRow {
  readonly secret_hash: string;
  readonly person_id: string;
  readonly csrf: string;
  readonly created_at: number;
  readonly expires_at: number;
}

interface TokenRow {
  readonly id: string;
  readonly secret_hash: string;
  readonly person_id: string;
  readonly name: string;
  readonly scope: string;
  readonly created_at: number;
  readonly last_used_at: number | null;
}

const mostAuditLines = 20_000;
/** A token that is used all day is noted as used once in this time: no write a request. */
const tokenUseGraceMs = 3_600_000;

const roles: readonly string[] = ['keeper', 'helper', 'viewer'] satisfies readonly Role[];

/** Throws where the row can't be read. */
export function toPerson(row: PersonRow): Person {
  if (!roles.includes(row.role)) throw new RangeError('a person of an unknown role');
  return personOf(row);
}

/** With the least of rights where the role can't be read: without the person, the server would seem to have no password. */
const readPerson = ({ unreadable }: Context, row: PersonRow): Person =>
  unreadable.read('person', row.id, () => toPerson(row)) ?? personOf({ ...row, role: 'viewer' });

const personOf = (row: PersonRow): Person => ({
  id: row.id,
  name: row.name,
  role: row.role,
  passwordHash: row.password_hash,
  createdAtMs: row.created_at,
});

const toSession = (row: SessionRow): Session => ({
  secretHash: row.secret_hash,
  personId: row.person_id,
  csrf: row.csrf,
  createdAtMs: row.created_at,
  expiresAtMs: row.expires_at,
});

const toToken = (row: TokenRow): Token => ({
  id: row.id,
  secretHash: row.secret_hash,
  personId: row.person_id,
  name: row.name,
  scope: row.scope,
  createdAtMs: row.created_at,
  lastUsedAtMs: row.last_used_at,
});

export function people(context: Context): People {
  return { ...accounts(context), ...sessions(context), ...tokens(context), ...auditLog(context) };
}

type Accounts = Pick<People, 'list' | 'get' | 'byName' | 'add' | 'setPassword' | 'setRole' | 'remove'>;

function accounts(context: Context): Accounts {
  const { db } = context;
  const all = db.prepare<[], PersonRow>('SELECT * FROM person ORDER BY name');
  const one = db.prepare<[string], PersonRow>('SELECT * FROM person WHERE id = ?');
  const byName = db.prepare<[string], PersonRow>('SELECT * FROM person WHERE name = ?');
  const add = db.prepare<[string, string, string, string, number]>(
    'INSERT INTO person (id, name, role, password_hash, created_at) VALUES (?, ?, ?, ?, ?)',
  );
  const setPassword = db.prepare<[string, string]>('UPDATE person SET password_hash = ? WHERE id = ?');
  const setRole = db.prepare<[string, string]>('UPDATE person SET role = ? WHERE id = ?');
  const remove = db.prepare<[string]>('DELETE FROM person WHERE id = ?');
  const endSessions = db.prepare<[string]>('DELETE FROM session WHERE person_id = ?');
  const endTokens = db.prepare<[string]>('DELETE FROM token WHERE person_id = ?');
  const otherKeepers = db
    .prepare<[string], number>("SELECT count(*) FROM person WHERE role = 'keeper' AND id <> ?")
    .pluck();

  const refuseLastKeeper = (id: string): void => {
    if (one.get(id)?.role !== 'keeper' || (otherKeepers.get(id) ?? 0) > 0) return;
    throw new StoreConflict('There must be at least one keeper: make somebody else a keeper first.');
  };

  return {
    list: () => all.all().map((row) => readPerson(context, row)),
    get(id) {
      const row = one.get(id);
      return row && readPerson(context, row);
    },
    byName(name) {
      const row = byName.get(name);
      return row && readPerson(context, row);
    },
    add: (person) => {
      context.write(() => {
        if (byName.get(person.name))
          throw new StoreConflict(`There is somebody named ${person.name} already.`);
        add.run(person.id, person.name, person.role, person.passwordHash, person.createdAtMs);
      });
    },
    setPassword: (id, passwordHash, { keepTokens = false } = {}) =>
      context.write(() => {
        setPassword.run(passwordHash, id);
        endSessions.run(id);
        return keepTokens ? 0 : endTokens.run(id).changes;
      }),
    setRole: (id, role) => {
      context.write(() => {
        if (role !== 'keeper') refuseLastKeeper(id);
        setRole.run(role, id);
      });
    },
    remove: (id) => {
      context.write(() => {
        refuseLastKeeper(id);
        remove.run(id);
      });
    },
  };
}

type Sessions = Pick<
  People,
  'addSession' | 'session' | 'extendSession' | 'endSession' | 'endSessionsOf' | 'dropExpiredSessions'
>;

function sessions(context: Context): Sessions {
  const { db } = context;
  const add = db.prepare<[string, string, string, number, number]>(
    'INSERT INTO session (secret_hash, person_id, csrf, created_at, expires_at) VALUES (?, ?, ?, ?, ?)',
  );
  const one = db.prepare<[string, number], SessionRow>(
    'SELECT * FROM session WHERE secret_hash = ? AND expires_at > ?',
  );
  const person = db.prepare<[string], PersonRow>('SELECT * FROM person WHERE id = ?');
  const extend = db.prepare<[number, string]>('UPDATE session SET expires_at = ? WHERE secret_hash = ?');
  const end = db.prepare<[string]>('DELETE FROM session WHERE secret_hash = ?');
  const endAll = db.prepare<[string]>('DELETE FROM session WHERE person_id = ?');
  const dropExpired = db.prepare<[number]>('DELETE FROM session WHERE expires_at <= ?');

  return {
    addSession: ({ secretHash, personId, csrf, createdAtMs, expiresAtMs }) => {
      context.write(() => add.run(secretHash, personId, csrf, createdAtMs, expiresAtMs));
    },
    session(secretHash, nowMs) {
      const row = one.get(secretHash, nowMs);
      const owner = row && person.get(row.person_id);
      if (!row || !owner) return undefined;
      return { session: toSession(row), person: readPerson(context, owner) };
    },
    extendSession: (secretHash, expiresAtMs) => {
      context.write(() => extend.run(expiresAtMs, secretHash));
    },
    endSession: (secretHash) => {
      context.write(() => end.run(secretHash));
    },
    endSessionsOf: (personId) => context.write(() => endAll.run(personId).changes),
    dropExpiredSessions: (nowMs) => context.write(() => dropExpired.run(nowMs).changes),
  };
}

type Tokens = Pick<People, 'addToken' | 'token' | 'tokens' | 'tokenUsed' | 'removeToken'>;

function tokens(context: Context): Tokens {
  const { db } = context;
  const add = db.prepare<[string, string, string, string, string, number]>(
    'INSERT INTO token (id, secret_hash, person_id, name, scope, created_at) VALUES (?, ?, ?, ?, ?, ?)',
  );
  const one = db.prepare<[string], TokenRow>('SELECT * FROM token WHERE secret_hash = ?');
  const person = db.prepare<[string], PersonRow>('SELECT * FROM person WHERE id = ?');
  const all = db.prepare<[], TokenRow>('SELECT * FROM token ORDER BY created_at, id');
  const used = db.prepare<[number, string, number]>(
    'UPDATE token SET last_used_at = ? WHERE id = ? AND coalesce(last_used_at, 0) < ?',
  );
  const remove = db.prepare<[string]>('DELETE FROM token WHERE id = ?');

  return {
    addToken: ({ id, secretHash, personId, name, scope, createdAtMs }) => {
      context.write(() => add.run(id, secretHash, personId, name, scope, createdAtMs));
    },
    token(secretHash) {
      const row = one.get(secretHash);
      const owner = row && person.get(row.person_id);
      return row && owner && { token: toToken(row), person: readPerson(context, owner) };
    },
    tokens: (personId) =>
      all
        .all()
        .filter((row) => personId === undefined || row.person_id === personId)
        .map(toToken),
    tokenUsed: (id, atMs) => {
      context.write(() => used.run(atMs, id, atMs - tokenUseGraceMs));
    },
    removeToken: (id) => context.write(() => remove.run(id).changes > 0),
  };
}

function auditLog(context: Context): Pick<People, 'noteAudit' | 'audit'> {
  const { db } = context;
  const add = db.prepare<[number, string, string]>('INSERT INTO audit (at_ms, who, what) VALUES (?, ?, ?)');
  const trim = db.prepare<[number]>('DELETE FROM audit WHERE id <= ?');
  const newest = db.prepare<[number], { at_ms: number; who: string; what: string }>(
    'SELECT * FROM audit ORDER BY id DESC LIMIT ?',
  );
  return {
    noteAudit: (who, what) => {
      context.write(() => {
        const { lastInsertRowid } = add.run(context.nowMs(), who, what);
        trim.run(Number(lastInsertRowid) - mostAuditLines);
      });
    },
    audit: (limit = 200) =>
      newest.all(limit).map((row) => ({ atMs: row.at_ms, who: row.who, what: row.what })),
  };
}
