/** A backup in the place of an empty database, from the page of the first steps. */
import { createWriteStream, existsSync, mkdirSync, rmSync, statSync } from 'node:fs';
import { basename, dirname, join } from 'node:path';
import { pipeline } from 'node:stream/promises';
import { Router, type Request } from 'express';
import { listBackups } from '../store/backup.ts';
import { StoreRefused } from '../store/errors.ts';
import type { Access } from './access/access.ts';
import { keeperAtTheMachine, requireRole } from './access/access.ts';
import { newId } from '../farm/secrets.ts';
import type { AppDeps } from './deps.ts';
import { backupFolder } from '../farm/settings.ts';
import { implement } from './operation.ts';
import { UserError } from '../user-error.ts';
import { iso } from '../farm/wire.ts';

type Deps = Pick<AppDeps, 'store' | 'restore' | 'log'>;

/** Why no backup can be brought back here; null where one can. */
function whyNot({ store, restore }: Deps): string | null {
  if (!restore) return 'This server keeps nothing, so no backup can be brought back into it.';
  if (store.places.listSites().length === 0) return null;
  return 'This server has records already. Stop it and use "welcomb restore", which keeps them aside.';
}

async function bringBack(deps: Deps, file: string, who: string): Promise<void> {
  const why = whyNot(deps);
  if (why !== null || !deps.restore) throw new UserError('conflict', why ?? '');
  try {
    await deps.restore(file);
  } catch (error) {
    if (!(error instanceof StoreRefused)) throw error;
    const reason = error.message.replaceAll(file, basename(file));
    throw new UserError('unusable-file', `${reason} Nothing was changed: choose another backup.`);
  }
  deps.log.info({ file, who }, 'a backup was brought back from the page; the server starts again with it');
}

export function restoreRoutes(deps: Deps) {
  return {
    ...implement('listRestorable', () => {
      const why = whyNot(deps);
      const folder = backupFolder(deps.store) ?? '';
      return {
        possible: why === null,
        ...(why === null ? {} : { why }),
        folder,
        items: listBackups(folder).map((file) => {
          const { size, mtimeMs } = statSync(file);
          return { file: basename(file), bytes: size, at: iso(mtimeMs) };
        }),
      };
    }),
    ...implement('restoreBackup', async ({ body, actor }) => {
      const folder = backupFolder(deps.store) ?? '';
      // By name among those that are listed: a path from outside is never opened.
      const file = listBackups(folder).find((one) => basename(one) === body.file);
      if (file === undefined)
        throw new UserError('not-found', `There is no backup ${body.file} in ${folder}.`);
      await bringBack(deps, file, actor.name);
    }),
  };
}

export const uploadPath = {
  path: '/restore/upload',
  method: 'post',
  role: 'keeper',
  type: 'application/json',
  consumes: 'application/vnd.sqlite3',
  summary: 'Bring back the backup that is sent, into a server that has no site yet',
} as const;

/** As long as something comes, it may take its time. */
const idleMs = 60_000;

/** The body is streamed to the disk beside the database: backups are larger than memory. */
export function uploadRoute(deps: Deps, access: Access): Router {
  const router = Router();
  router.post(uploadPath.path, async (request, response) => {
    const actor = requireRole(access.whoAsks(request), 'keeper') ?? keeperAtTheMachine;
    const why = whyNot(deps);
    if (why !== null) throw new UserError('conflict', why);
    if (!request.is(uploadPath.consumes))
      throw new UserError('unsupported-media-type', `Send the body as ${uploadPath.consumes}.`);
    const folder = dirname(deps.store.file);
    refuseTooLarge(request, deps);
    const file = join(folder, `uploaded-${newId()}.sqlite`);
    request.setTimeout(idleMs, () => request.destroy());
    try {
      mkdirSync(folder, { recursive: true });
      await pipeline(request, createWriteStream(file, { flags: 'wx', mode: 0o600 }));
      await bringBack(deps, file, actor.name);
      response.status(204).end();
    } finally {
      if (existsSync(file)) rmSync(file);
    }
  });
  return router;
}

/** It is on the disk twice for a moment, and the database needs air. */
function refuseTooLarge(request: Request, { store }: Deps): void {
  const { freeBytes } = store.diagnostics();
  const bytes = Number(request.headers['content-length']);
  if (!Number.isFinite(bytes))
    throw new UserError('length-required', 'Say how long the backup is (Content-Length).');
  if (bytes * 3 <= freeBytes) return;
  throw new UserError(
    'too-large',
    `This backup has ${(bytes / 1e6).toFixed(1)} MB and the disk has ${(freeBytes / 1e6).toFixed(1)} MB free; three times its size is needed: free some space first.`,
  );
}
