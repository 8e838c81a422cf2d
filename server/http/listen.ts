/** Starting to listen, and stopping without cutting anybody off in the middle of an answer. */
import { UserError, fileFault } from '../user-error.ts';
import { readFileSync } from 'node:fs';
import { createServer } from 'node:http';
import type { RequestListener, Server } from 'node:http';
import { createServer as createTlsServer } from 'node:https';
import type { AddressInfo, Socket } from 'node:net';

export interface ListenOptions {
  readonly host: string;
  readonly port: number;
  readonly tls?: { readonly key: string; readonly cert: string } | undefined;
  /**
   * Longest time for the whole request to arrive, ms. Long, because an import streams in here; other bodies have a
   * deadline of their own, and a head has 20 s.
   */
  readonly requestTimeoutMs?: number;
  /** How long a stop waits for answers under way. */
  readonly graceMs?: number;
}

export interface Listening {
  readonly host: string;
  readonly port: number;
  /** Where a browser on this machine finds it. */
  readonly url: string;
  /** Ends event streams by `endStreams`, finishes answers under way, then closes. */
  stop(endStreams?: () => void): Promise<void>;
}

const reasons: Readonly<Record<string, string>> = {
  EADDRINUSE: 'another program uses it already; stop that one or choose another with --http',
  EACCES: 'ports below 1024 need special rights; choose a higher one with --http',
  EADDRNOTAVAIL: 'this machine has no such address; choose another with --http',
  ENOTFOUND: 'that name is not known; choose another with --http',
};

function readPem(path: string, key: string): Buffer {
  try {
    return readFileSync(path);
  } catch (error) {
    throw new UserError(
      'cannot-start',
      `The file of the setting "httpTls.${key}" can't be read: ${fileFault(error)}.`,
      {
        cause: error,
      },
    );
  }
}

function serverFor(app: RequestListener, options: ListenOptions): Server {
  const { requestTimeoutMs = 1_800_000, tls } = options;
  const limits = {
    requestTimeout: requestTimeoutMs,
    headersTimeout: Math.min(20_000, requestTimeoutMs),
    connectionsCheckingInterval: Math.min(5_000, requestTimeoutMs),
    // Longer than proxies keep an idle connection (nginx: 60 s): they must not send into one that was just closed.
    keepAliveTimeout: 65_000,
  };
  if (!tls) return createServer(limits, app);
  const pem = { key: readPem(tls.key, 'key'), cert: readPem(tls.cert, 'cert') };
  try {
    return createTlsServer({ ...limits, ...pem, minVersion: 'TLSv1.2' }, app);
  } catch (error) {
    const reason = error instanceof Error ? error.message : String(error);
    throw new UserError(
      'cannot-start',
      `The certificate and key of "httpTls" don't work together: ${reason}.`,
      {
        cause: error,
      },
    );
  }
}

const bracketed = (host: string): string => (host.includes(':') ? `[${host}]` : host);

function browserUrl(options: ListenOptions, port: number): string {
  const any = options.host === '0.0.0.0' || options.host === '::';
  return `${options.tls ? 'https' : 'http'}://${any ? 'localhost' : bracketed(options.host)}:${String(port)}`;
}

/**
 * Closes connections that no request is under way on. Node's own `closeIdleConnections` spares those that have not
 * sent one yet, and browsers open some in advance.
 */
function idleCloser(server: Server, secure: boolean): () => void {
  const underWay = new Map<Socket, number>();
  server.on(secure ? 'secureConnection' : 'connection', (socket: Socket) => {
    underWay.set(socket, 0);
    socket.once('close', () => underWay.delete(socket));
  });
  server.on('request', ({ socket }, response) => {
    underWay.set(socket, (underWay.get(socket) ?? 0) + 1);
    response.once('close', () => {
      const now = underWay.get(socket);
      if (now !== undefined) underWay.set(socket, now - 1);
    });
  });
  return () => {
    for (const [socket, requests] of underWay) if (requests === 0) socket.destroy();
  };
}

async function close(server: Server, closeIdle: () => void, graceMs: number): Promise<void> {
  const cutOff = setTimeout(() => {
    server.closeAllConnections();
  }, graceMs);
  // Again and again: a connection that becomes idle after its last answer would be kept alive for the next request.
  const sweep = setInterval(closeIdle, 20);
  await new Promise<void>((resolve) => {
    server.close(() => {
      resolve();
    });
  });
  clearTimeout(cutOff);
  clearInterval(sweep);
}

/** Resolves when connections are taken. Throws `UserError` where the address or the certificate won't do. */
export async function listen(app: RequestListener, options: ListenOptions): Promise<Listening> {
  const server = serverFor(app, options);
  const closeIdle = idleCloser(server, options.tls !== undefined);
  await new Promise<void>((resolve, reject) => {
    const refuse = (error: NodeJS.ErrnoException): void => {
      const where = `${bracketed(options.host)}:${String(options.port)}`;
      const reason = reasons[error.code ?? ''] ?? error.message;
      reject(
        new UserError('cannot-start', `The page can't be served at ${where}: ${reason}.`, { cause: error }),
      );
    };
    server.once('error', refuse);
    server.listen({ host: options.host, port: options.port }, () => {
      server.off('error', refuse);
      resolve();
    });
  });
  const { port } = server.address() as AddressInfo;
  return {
    host: options.host,
    port,
    url: browserUrl(options, port),
    async stop(endStreams) {
      const closed = close(server, closeIdle, options.graceMs ?? 5_000);
      endStreams?.();
      await closed;
    },
  };
}
