/**
 * Export and import: readings, the field log and outcomes as CSV; everything as JSON Lines. What describes and reads a whole
 * export takes a megabyte, and is loaded by the first who asks.
 */
import { Router } from 'express';
import type { RequestHandler, Response } from 'express';
import * as z from 'zod';
import type { Access } from '../access/access.ts';
import { requireRole } from '../access/access.ts';
import type { Role } from '../../contract/index.ts';
import type { AppDeps } from '../deps.ts';
import type { ExtraPath } from '../openapi.ts';
import { orNotFound } from '../../user-error.ts';
import { parsed } from '../problem.ts';
import { iso } from '../../farm/wire.ts';
import { csvTarget } from './csv-target.ts';
import { importReportSchema } from './import-report.ts';
import { fileSafe, sendDownload } from './stream.ts';
import { channelQuery, channelRows, logRows, outcomeRows } from './tables.ts';

const csv = 'text/csv; charset=utf-8; header=present';
const jsonLines = 'application/jsonl; charset=utf-8';

const channelParams = z.object({ id: z.coerce.number().int().positive() });
const everythingQuery = z.object({
  readings: z.enum(['raw', 'hour', 'day', 'none']).default('raw').describe('Which readings come along'),
});

interface ExportPath extends ExtraPath {
  readonly role: Exclude<Role, 'anyone'>;
  readonly handler: (deps: AppDeps, access: Access) => RequestHandler;
}

const download =
  (type: string, file: string, pieces: (deps: AppDeps) => Iterable<string> | Promise<Iterable<string>>) =>
  (deps: AppDeps): RequestHandler =>
  async (_request, response: Response) => {
    await sendDownload(response, { type, file }, await pieces(deps));
  };

const taking =
  (name: 'importEverything' | 'importReadings') =>
  (deps: AppDeps, access: Access): RequestHandler =>
  async (request, response, next) => {
    const handlers = await import('./import-handlers.ts');
    await handlers[name](deps, access)(request, response, next);
  };

/** Below `/api/v1`; `{…}` are path parameters. */
export const exportPaths: readonly ExportPath[] = [
  {
    path: '/export/channels/{id}.csv',
    method: 'get',
    role: 'viewer',
    type: 'text/csv',
    summary: 'Readings of a channel as CSV (RFC 4180)',
    params: channelParams,
    query: channelQuery,
    handler:
      ({ store }) =>
      async (request, response) => {
        const { id } = parsed('address', channelParams, request.params);
        const query = parsed('query', channelQuery, request.query);
        const channel = orNotFound(store.channels.get(id), 'channel', id);
        const rows = channelRows(store, channel, query);
        const { sensor, quantity, probe } = channel;
        const name = [sensor, quantity, probe, query.resolution].filter((part) => part !== '').join('-');
        await sendDownload(response, { type: csv, file: `${fileSafe(name)}.csv` }, rows);
      },
  },
  {
    path: '/export/log.csv',
    method: 'get',
    role: 'viewer',
    type: 'text/csv',
    summary: 'The field log as CSV, one row an entry',
    handler: download(csv, 'field-log.csv', ({ store }) => logRows(store)),
  },
  {
    path: '/export/outcomes.csv',
    method: 'get',
    role: 'viewer',
    type: 'text/csv',
    summary: 'Introductions with their outcomes as CSV',
    handler: download(csv, 'outcomes.csv', async ({ views, nowMs }) => [
      outcomeRows(await views.outcomeRows(nowMs())),
    ]),
  },
  {
    path: '/export/everything.jsonl',
    method: 'get',
    role: 'keeper',
    type: 'application/jsonl',
    summary: 'Everything but secrets as JSON Lines; each line as `lines.schema.json` says',
    query: everythingQuery,
    handler:
      ({ store, version, nowMs }) =>
      async (request, response) => {
        const { readings } = parsed('query', everythingQuery, request.query);
        const file = `welcomb-${iso(nowMs()).slice(0, 10)}.jsonl`;
        const { everythingText } = await import('./everything.ts');
        const pieces = everythingText(store, { version, nowMs: nowMs(), readings });
        await sendDownload(response, { type: jsonLines, file }, pieces);
      },
  },
  {
    path: '/export/lines.schema.json',
    method: 'get',
    role: 'viewer',
    type: 'application/schema+json',
    summary: 'JSON Schema of a line of the export and import',
    handler: () => async (_request, response) => {
      const { linesJsonSchema } = await import('./lines.ts');
      response.type('application/schema+json').send(JSON.stringify(linesJsonSchema()));
    },
  },
  {
    path: '/import/everything.jsonl',
    method: 'post',
    role: 'keeper',
    type: 'application/json',
    consumes: 'application/jsonl',
    response: importReportSchema,
    summary: 'Take an export in: what is there already stays as it is',
    handler: taking('importEverything'),
  },
  {
    path: '/import/readings.csv',
    method: 'post',
    role: 'keeper',
    type: 'application/json',
    consumes: 'text/csv',
    query: csvTarget,
    response: importReportSchema,
    summary: 'Take readings of one channel in from CSV with the columns `time` and `value`',
    handler: taking('importReadings'),
  },
];

export function exportRoutes(deps: AppDeps, access: Access): Router {
  const router = Router();
  for (const { path, method, role, handler } of exportPaths) {
    const handle = handler(deps, access);
    router[method](path.replace(/\{(\w+)\}/g, ':$1'), (request, response, next) => {
      requireRole(access.whoAsks(request), role);
      return handle(request, response, next);
    });
  }
  return router;
}
