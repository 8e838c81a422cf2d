/** Backups that were damaged or made to let somebody in, brought back into an empty server from its first page. */
import { readdirSync, readFileSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import Database from 'better-sqlite3';
import { openStore } from '../../../server/store/store.ts';
import { fillWithEverything } from '../../store/support/full-store.ts';
import { day, may1 } from '../../store/support/made-up.ts';
import {
  dropFolder,
  newFolder,
  setupCodeOf,
  startServer,
  type RunningServer,
} from '../../support/server-process.ts';
import type { Attack } from '../attack.ts';

type Bytes = Uint8Array<ArrayBuffer>;

async function goodBackup(): Promise<Bytes> {
  const folder = newFolder();
  try {
    const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => may1 + 2 * day });
    fillWithEverything(store);
    const { file } = await store.backup(folder);
    store.close();
    return new Uint8Array(readFileSync(file));
  } finally {
    dropFolder(folder);
  }
}

function changed(backup: Bytes, sql: string): Bytes {
  const folder = newFolder();
  try {
    const file = join(folder, 'changed.sqlite');
    writeFileSync(file, backup);
    const db = new Database(file);
    db.exec(sql);
    db.close();
    return new Uint8Array(readFileSync(file));
  } finally {
    dropFolder(folder);
  }
}

const withoutDigest = (backup: Bytes): Bytes =>
  changed(backup, "DELETE FROM setting WHERE key = 'internal/backup-digest'");

/** Seeded, so that a run repeats (Park and Miller's generator, 1988). */
function dice(seed: number): (below: number) => number {
  let state = seed;
  return (below) => {
    state = (state * 48_271) % 2_147_483_647;
    return state % below;
  };
}

const send = (server: RunningServer, body: Bytes, path: 'upload' | 'uploads'): Promise<Response> =>
  fetch(`${server.http}/api/v1/restore/${path}`, {
    method: 'POST',
    headers: {
      'Content-Type': 'application/vnd.sqlite3',
      Origin: server.http,
      'X-Setup-Code': setupCodeOf(server),
    },
    body,
  });

async function withServer<T>(use: (server: RunningServer) => Promise<T>): Promise<T> {
  const server = await startServer();
  try {
    return await use(server);
  } finally {
    await server.stop();
    dropFolder(server.data);
  }
}

/** What a check lets through is compared as the server would keep it. */
function contentOf(bytes: Bytes): string {
  const folder = newFolder();
  try {
    const file = join(folder, 'backup.sqlite');
    writeFileSync(file, bytes);
    const db = new Database(file, { readonly: true });
    const tables = db
      .prepare<[], string>("SELECT name FROM sqlite_schema WHERE type = 'table' ORDER BY name")
      .pluck()
      .all();
    const content = tables.map((name) => db.prepare(`SELECT * FROM "${name}"`).all());
    db.close();
    return JSON.stringify(content);
  } finally {
    dropFolder(folder);
  }
}

const flippedBits: Attack = {
  name: 'a backup in which single bits were flipped',
  expected: 'refused, or reads back the same',
  run: (size) =>
    withServer(async (server) => {
      const good = await goodBackup();
      const whole = contentOf(good);
      const roll = dice(20_270_501);
      // Most of a small file is room that is not used yet.
      const used = [...good.keys()].filter((at) => good[at] !== 0);
      const tries = size === 'small' ? 20 : 200;
      let refused = 0;
      let other = 0;
      for (let n = 0; n < tries; n += 1) {
        const bad = good.slice();
        const at = used[roll(used.length)] ?? 0;
        bad[at] = (bad[at] ?? 0) ^ (1 << roll(8));
        const { status } = await send(server, bad, 'uploads');
        if (status === 422) refused += 1;
        else if (status !== 200 || contentOf(bad) !== whole) other += 1;
      }
      return {
        held: other === 0,
        seen: `${String(refused)} of ${String(tries)} refused, ${String(tries - refused - other)} read back the same, ${String(other)} restorable with something else`,
      };
    }),
};

/** Each file has to be refused with 422, and leave the server as it is. */
function refusedFiles(name: string, files: (good: Bytes) => readonly Bytes[]): Attack {
  return {
    name,
    expected: 'refused, nothing changed',
    run: () =>
      withServer(async (server) => {
        const statuses: number[] = [];
        for (const file of files(await goodBackup())) {
          const answer = await send(server, file, 'upload');
          statuses.push(answer.status);
          // It would start again with the file.
          if (answer.status === 204) break;
        }
        const left = readdirSync(server.data).filter((one) => /uploaded|incoming|replaced/.test(one));
        const held = statuses.every((status) => status === 422) && left.length === 0;
        return { held, seen: `answers ${statuses.join(', ')}; ${String(left.length)} files left over` };
      }),
  };
}

const hiddenAccount = `CREATE TRIGGER later AFTER DELETE ON setting BEGIN
  INSERT OR IGNORE INTO person VALUES ('p2', 'Visitor', 'keeper', 'scrypt$1', 1);
  INSERT OR IGNORE INTO session VALUES ('h9', 'p2', 'c', 1, 9e15);
END`.replace('9e15', '9000000000000000');

const oldSessions: Attack = {
  name: 'a session and a token that were in the backup',
  expected: 'gone after the restore',
  run: () =>
    withServer(async (server) => {
      const { status } = await send(server, await goodBackup(), 'upload');
      await server.stop();
      const db = new Database(join(server.data, 'welcomb.db'), { readonly: true });
      const [kept] = db
        .prepare<[], number>('SELECT (SELECT count(*) FROM session) + (SELECT count(*) FROM token)')
        .pluck()
        .all();
      const people = db.prepare<[], string>('SELECT name FROM person').pluck().all();
      db.close();
      return {
        held: status === 204 && kept === 0 && people.join() === 'Ada',
        seen: `answer ${String(status)}; ${String(kept)} sessions and tokens left, people: ${people.join(', ')}`,
      };
    }),
};

const unreadableRow: Attack = {
  name: 'an alert in the database that can’t be read',
  expected: 'the server starts, and tells which row it left out',
  async run() {
    const data = newFolder();
    const store = openStore({ file: join(data, 'welcomb.db') });
    store.alerts.save({
      id: 'brood-chilling n1',
      ruleId: 'brood-chilling',
      subject: { kind: 'nuc', id: 'n1' },
      phase: 'raised',
      urgency: 'now',
      open: true,
      changedAtMs: may1,
      state: { since: may1 },
      message: {},
    });
    store.close();
    const db = new Database(join(data, 'welcomb.db'));
    db.prepare(`UPDATE alert SET message = '{"to'`).run();
    db.close();
    try {
      const server = await startServer({ data });
      const { unreadable } = await server.get<{ unreadable: { id: string }[] }>('/api/v1/status');
      await server.stop();
      return {
        held: unreadable.length === 1 && unreadable[0]?.id === 'brood-chilling n1',
        seen: `it started and tells ${unreadable.map(({ id }) => id).join(', ')}`,
      };
    } finally {
      dropFolder(data);
    }
  },
};

export const backupAttacks: readonly Attack[] = [
  flippedBits,
  refusedFiles('a backup that lost its last 100 bytes', (good) => [
    good.slice(0, -100),
    withoutDigest(good).slice(0, -100),
  ]),
  refusedFiles('a backup with a trigger that makes an account and a session', (good) => [
    changed(good, hiddenAccount),
    changed(withoutDigest(good), hiddenAccount),
  ]),
  refusedFiles('a backup with a view, a table, an index or a column more', (good) =>
    [
      'CREATE VIEW v AS SELECT * FROM person',
      'CREATE TABLE more (id INTEGER)',
      'CREATE INDEX more ON person (role)',
      'ALTER TABLE person ADD COLUMN more TEXT',
    ].map((sql) => changed(withoutDigest(good), sql)),
  ),
  oldSessions,
  unreadableRow,
];
