/** A backup in the place of an empty database, from the page of the first steps. */
import { createWriteStream, existsSync, readdirSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { Router, type Request } from 'express';
import { checkAside } from '../store/backup/check-aside.ts';
import { StoreRefused } from '../store/errors.ts';
import type { Access } from './access/access.ts';
import { keeperAtTheMachine, requireRole } from './access/access.ts';
import { newId } from '../farm/secrets.ts';
import { summaryOf } from '../farm/backup-summary.ts';
import type { BackupSummary } from '../contract/server.ts';
import type { AppDeps } from './deps.ts';
import { backupsThere } from '../farm/backups-there.ts';
import { implement } from './operation.ts';
import { makeFolder } from '../store/file/private-files.ts';
import { UserError } from '../user-error.ts';
import { iso } from '../farm/wire.ts';

type Deps = Pick<AppDeps, 'store' | 'restore' | 'log' | 'nowMs' | 'setupCode'>;

/** A backup brings its people along: before there is a password it takes the same proof as the first one. */
function checkSetupCode({ store, setupCode, nowMs }: Deps, given: string | undefined): void {
  if (store.people.list().length === 0) setupCode?.check(given, nowMs());
}

/** Why no backup can be brought back here; null where one can. */
function whyNot({ store, restore }: Deps): string | null {
  if (!restore) return 'This server keeps nothing, so no backup can be brought back into it.';
  if (store.places.listSites().length === 0) return null;
  return 'This server has records already. Stop it and use "welcomb restore", which keeps them aside.';
}

/** With the refusal of a file as an answer, in which no folder of the server stands. */
async function orRefused<T>(file: string, work: () => Promise<T>): Promise<T> {
  try {
    return await work();
  } catch (error) {
    if (!(error instanceof StoreRefused)) throw error;
    const reason = error.message.replaceAll(file, basename(file));
    throw new UserError('unusable-file', `${reason} Nothing was changed: choose another backup.`);
  }
}

function refuseUnlessEmpty(deps: Deps): void {
  const why = whyNot(deps);
  if (why !== null) throw new UserError('conflict', why);
}

async function bringBack(deps: Deps, file: string, who: string): Promise<void> {
  refuseUnlessEmpty(deps);
  await orRefused(file, async () => deps.restore?.(file));
  deps.log.info({ file, who }, 'a backup was brought back from the page; the server starts again with it');
}

const summaryOfFile = (deps: Deps, file: string): Promise<BackupSummary> => {
  refuseUnlessEmpty(deps);
  return orRefused(file, async () => summaryOf(file, await checkAside(file)));
};

/** By name among those that are listed, or the upload: a path from outside is never opened. */
function fileNamed({ store }: Deps, name: string): string {
  const { folder, files, problem } = backupsThere(store);
  const file = [...files, ...uploads(store.file)].find((one) => basename(one) === name);
  if (file === undefined)
    throw new UserError('not-found', problem ?? `There is no backup ${name} in ${String(folder)}.`);
  return file;
}

const uploadName = /^uploaded-.+\.sqlite$/;

/** Backups that were sent and wait for a word, beside the database. */
function uploads(database: string): string[] {
  const folder = dirname(database);
  if (!existsSync(folder)) return [];
  return readdirSync(folder)
    .filter((name) => uploadName.test(name))
    .map((name) => join(folder, name));
}

function dropUploads(database: string): void {
  for (const file of uploads(database)) rmSync(file, { force: true });
}

export function restoreRoutes(deps: Deps) {
  return {
    ...implement('listRestorable', () => {
      const why = whyNot(deps);
      const { folder, files, problem } = backupsThere(deps.store);
      return {
        possible: why === null,
        ...(why === null ? {} : { why }),
        folder: folder ?? '',
        ...(problem === undefined ? {} : { problem }),
        items: files.map((file) => {
          const { size, mtimeMs } = statSync(file);
          return { file: basename(file), bytes: size, at: iso(mtimeMs) };
        }),
      };
    }),
    ...implement('lookAtBackup', ({ body }) => {
      checkSetupCode(deps, body.code);
      return summaryOfFile(deps, fileNamed(deps, body.file));
    }),
    ...implement('restoreBackup', async ({ body, actor }) => {
      checkSetupCode(deps, body.code);
      await bringBack(deps, fileNamed(deps, body.file), actor.name);
      dropUploads(deps.store.file);
    }),
  };
}

const upload = {
  method: 'post',
  role: 'keeper',
  type: 'application/json',
  consumes: 'application/vnd.sqlite3',
} as const;

export const uploadPaths = [
  {
    ...upload,
    path: '/restore/upload',
    summary: 'Bring back the backup that is sent, into a server that has no site yet',
  },
  {
    ...upload,
    path: '/restore/uploads',
    summary: 'Check the backup that is sent, keep it until it is restored by its name, and say what is in it',
  },
] as const;
const [atOnce, looked] = uploadPaths;

/** As long as something comes, it may take its time. */
const idleMs = 60_000;

export function uploadRoute(deps: Deps, access: Access): Router {
  // Those of a page that was left.
  dropUploads(deps.store.file);
  const router = Router();
  router.post(atOnce.path, async (request, response) => {
    const actor = requireRole(access.whoAsks(request), 'keeper') ?? keeperAtTheMachine;
    checkSetupCode(deps, request.get('x-setup-code'));
    const file = await received(deps, request);
    try {
      await bringBack(deps, file, actor.name);
      response.status(204).end();
    } finally {
      rmSync(file, { force: true });
    }
  });
  router.post(looked.path, async (request, response) => {
    requireRole(access.whoAsks(request), 'keeper');
    checkSetupCode(deps, request.get('x-setup-code'));
    const file = await received(deps, request);
    try {
      response.json(await summaryOfFile(deps, file));
    } catch (error) {
      rmSync(file, { force: true });
      throw error;
    }
  });
  return router;
}

/** The body, streamed to the disk beside the database, for backups are larger than memory; the upload before it goes. */
async function received(deps: Deps, request: Request): Promise<string> {
  refuseUnlessEmpty(deps);
  if (!request.is(upload.consumes))
    throw new UserError('unsupported-media-type', `Send the body as ${upload.consumes}.`);
  const folder = dirname(deps.store.file);
  dropUploads(deps.store.file);
  refuseTooLarge(request, deps);
  const file = join(folder, `uploaded-${newId()}.sqlite`);
  request.setTimeout(idleMs, () => request.destroy());
  try {
    makeFolder(folder);
    await pipeline(request, createWriteStream(file, { flags: 'wx', mode: 0o600 }));
    return file;
  } catch (error) {
    rmSync(file, { force: true });
    throw error;
  }
}

/** It is on the disk twice for a moment, and the database needs air. */
function refuseTooLarge(request: Request, { store }: Deps): void {
  const { freeBytes } = store.diagnostics();
  const bytes = Number(request.headers['content-length']);
  if (!Number.isFinite(bytes))
    throw new UserError('length-required', 'Say how long the backup is (Content-Length).');
  if (freeBytes === null || bytes * 3 <= freeBytes) return;
  throw new UserError(
    'too-large',
    `This backup has ${(bytes / 1e6).toFixed(1)} MB and the disk has ${(freeBytes / 1e6).toFixed(1)} MB free; three times its size is needed: free some space first.`,
  );
}
