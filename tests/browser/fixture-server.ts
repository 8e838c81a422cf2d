/**
 * Serves the built page and answers the whole contract from an invented farm. Every answer is checked against the
 * contract's own schema, so a page that works here is fed what the real server sends. `node --import tsx
 * tests/browser/fixture-server.ts [nucs] [port]` starts it by itself for looking at pages.
 */
import type { AddressInfo } from 'node:net';
import { createServer } from 'node:http';
import type { ServerResponse } from 'node:http';
import { fileURLToPath } from 'node:url';
import express from 'express';
import type { Request, Response } from 'express';
import helmet from 'helmet';
import type { LiveEvent } from '../../server/contract/alerts.ts';
import type { Operation, OperationName } from '../../server/contract/index.ts';
import { operations } from '../../server/contract/index.ts';
import { Refused, answers } from './invented/answers.ts';
import type { Farm } from './invented/farm.ts';
import { makeFarm } from './invented/farm.ts';

export const builtPage = fileURLToPath(new URL('../../dist/dashboard', import.meta.url));

export interface Fixture {
  readonly url: string;
  readonly farm: Farm;
  /** Requests that changed something, newest last. */
  readonly changes: { readonly name: OperationName; readonly body: unknown }[];
  /** What an answer did that the contract does not allow. */
  readonly breaches: string[];
  emit(event: LiveEvent): void;
  /** Cuts every connection and takes no more; `up` takes them again at the same address. */
  down(): Promise<void>;
  up(): Promise<void>;
  /** Whether a request for the page itself is left without an answer, as on a line that is nearly gone. */
  holdPage(held: boolean): void;
  stop(): Promise<void>;
}

export interface FixtureOptions {
  readonly basePath?: string;
  readonly port?: number;
  /** Another build than the one in `dist`. */
  readonly folder?: string;
  /** `false` for a bench: the check of every answer takes longer than the real server takes to make it. */
  readonly check?: boolean;
}

const securityHeaders = helmet({
  contentSecurityPolicy: {
    useDefaults: false,
    directives: {
      defaultSrc: ["'self'"],
      imgSrc: ["'self'", 'data:'],
      objectSrc: ["'none'"],
      baseUri: ["'none'"],
      formAction: ["'self'"],
      frameAncestors: ["'none'"],
    },
  },
  strictTransportSecurity: false,
});

const problem = (response: Response, status: number, detail: string): void => {
  response
    .status(status)
    .type('application/problem+json')
    .send(JSON.stringify({ type: 'conflict', title: 'Refused', status, detail }));
};

function answer(
  name: OperationName,
  farm: Farm,
  fixture: Pick<Fixture, 'changes' | 'breaches'>,
  check: boolean,
) {
  const operation: Operation = operations[name];
  return (request: Request, response: Response): void => {
    try {
      if (operation.role !== 'anyone' && farm.passwordSet && !farm.signedIn)
        throw new Refused(401, 'Sign in first.');
      const asked = {
        params: operation.params?.parse(request.params),
        query: operation.query?.parse(request.query),
        body: operation.body?.parse(request.body),
      };
      if (operation.method !== 'get') fixture.changes.push({ name, body: asked.body });
      const told: unknown = (answers[name] as (farm: Farm, asked: unknown) => unknown)(farm, asked);
      if (!operation.response) {
        response.status(204).end();
        return;
      }
      const checked = check ? operation.response.safeParse(told) : undefined;
      if (checked?.success === false) fixture.breaches.push(`${name}: ${checked.error.message}`);
      response.json(told);
    } catch (error) {
      if (error instanceof Refused) problem(response, error.status, error.message);
      else problem(response, 400, error instanceof Error ? error.message : String(error));
    }
  };
}

export async function startFixture(farm: Farm = makeFarm(), options: FixtureOptions = {}): Promise<Fixture> {
  const streams = new Set<ServerResponse>();
  const record = { changes: [] as Fixture['changes'], breaches: [] as string[] };
  const api = express.Router();
  api.use(express.json());
  api.get('/events', (_request, response) => {
    response.writeHead(200, { 'Content-Type': 'text/event-stream', 'Cache-Control': 'no-store' });
    const hello: LiveEvent = { type: 'hello', time: new Date(farm.nowMs()).toISOString(), version: '0.2.0' };
    response.write(`retry: 1000\ndata: ${JSON.stringify(hello)}\n\n`);
    streams.add(response);
    response.on('close', () => streams.delete(response));
  });
  for (const name of Object.keys(operations) as OperationName[]) {
    const { method, path } = operations[name];
    api[method](path.replace(/\{(\w+)\}/g, ':$1'), answer(name, farm, record, options.check !== false));
  }
  const app = express();
  app.use(securityHeaders);
  const base = options.basePath ?? '/';
  app.use(`${base === '/' ? '' : base}/api/v1`, api);
  let pageHeld = false;
  app.use(base, ({ path }, _response, next) => {
    if (!pageHeld || path !== '/') next();
  });
  app.use(base, express.static(options.folder ?? builtPage));
  const server = createServer(app);
  const listen = (port: number): Promise<void> =>
    new Promise((resolve) => {
      server.listen(port, '127.0.0.1', resolve);
    });
  await listen(options.port ?? 0);
  const { port } = server.address() as AddressInfo;
  const close = (): Promise<void> =>
    new Promise((resolve) => {
      server.close(() => {
        resolve();
      });
      server.closeAllConnections();
    });
  return {
    url: `http://127.0.0.1:${String(port)}${base === '/' ? '/' : `${base}/`}`,
    farm,
    ...record,
    emit(event) {
      for (const stream of streams) stream.write(`data: ${JSON.stringify(event)}\n\n`);
    },
    down: close,
    up: () => listen(port),
    holdPage(held) {
      pageHeld = held;
    },
    stop: close,
  };
}

if (process.argv[1] === fileURLToPath(import.meta.url)) {
  const fixture = await startFixture(makeFarm({ nucs: Number(process.argv[2] ?? 8) }), {
    port: Number(process.argv[3] ?? 0),
  });
  console.log(fixture.url);
}
