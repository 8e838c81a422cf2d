/** Taking files in: bodies that stream, from keepers only. */
import type { Request, RequestHandler } from 'express';
import type { Access } from '../access/access.ts';
import { keeperAtTheMachine, requireRole } from '../access/access.ts';
import type { AppDeps } from '../deps.ts';
import { activeMappings } from '../../farm/mappings.ts';
import { UserError } from '../../user-error.ts';
import { parsed } from '../problem.ts';
import { csvTarget } from './csv-target.ts';
import { importCsv } from './import-csv.ts';
import { createImporter } from './import.ts';
import { createPace, drain } from './pace.ts';
import { textLines } from './text-lines.ts';

/** A body that streams in: as long as something comes, it may take its time. */
const idleMs = 60_000;
function bodyStream(request: Request, type: string): Request {
  if (!request.is(type)) throw new UserError('unsupported-media-type', `Send the body as ${type}.`);
  if (request.headers['content-encoding'] !== undefined)
    throw new UserError('unsupported-media-type', 'Send the body uncompressed.');
  request.setTimeout(idleMs, () => request.destroy());
  return request;
}

/**
 * Whatever becomes of a file, its body is read to the end: a client that still sends would not see the answer, and what is left
 * would stand before the next request on its connection.
 */
async function toTheEnd<T>(body: Request, take: () => Promise<T>): Promise<T> {
  try {
    return await take();
  } finally {
    if (!body.destroyed) await drain(body.iterator());
  }
}

/** What came in may change every view. */
function showAnew({ store, ingest, events }: AppDeps): void {
  ingest.setMappings(activeMappings(store));
  ingest.setCalibrated(store.channels.calibrated());
  events.publish({ type: 'channels' });
  events.publish({ type: 'status' });
}

export const importEverything =
  (deps: AppDeps, access: Access): RequestHandler =>
  async (request, response) => {
    const { name } = requireRole(access.whoAsks(request), 'keeper') ?? keeperAtTheMachine;
    const importer = createImporter(deps.store, name, deps.nowMs);
    const pace = createPace();
    const body = bodyStream(request, 'application/jsonl');
    await toTheEnd(body, async () => {
      for await (const line of textLines(body.iterator({ destroyOnReturn: false }))) {
        if (!importer.take(line)) break;
        await pace.rest();
      }
    });
    const report = await importer.finish();
    deps.store.people.noteAudit(name, `imported a file (${String(report.added)} added)`);
    showAnew(deps);
    await deps.views.afterImport();
    response.json(report);
  };

export const importReadings =
  (deps: AppDeps, access: Access): RequestHandler =>
  async (request, response) => {
    const { name } = requireRole(access.whoAsks(request), 'keeper') ?? keeperAtTheMachine;
    const target = parsed('query', csvTarget, request.query);
    const body = bodyStream(request, 'text/csv');
    const report = await toTheEnd(body, () => importCsv(deps.store, target, body, deps.nowMs));
    deps.store.people.noteAudit(
      name,
      `imported readings of ${target.sensor} (${String(report.added)} added)`,
    );
    showAnew(deps);
    await deps.views.afterSetupChange(deps.nowMs());
    response.json(report);
  };
