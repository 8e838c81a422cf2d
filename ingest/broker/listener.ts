/** The port that devices connect to: plain or TLS, with one sentence where it can't be opened. */
import { createServer, type Server, type Socket } from 'node:net';
import { createServer as createTlsServer } from 'node:tls';

export interface ListenOptions {
  readonly host: string;
  /** 0: any free port. */
  readonly port: number;
  /** PEM texts. */
  readonly tls?: { readonly key: string; readonly cert: string };
}

/** Resolves when it listens. */
export async function listenOn(options: ListenOptions, accept: (socket: Socket) => void): Promise<Server> {
  const server = options.tls ? tlsServer(options.tls, accept) : createServer(accept);
  await listening(server, options);
  return server;
}

function tlsServer(pem: { key: string; cert: string }, accept: (socket: Socket) => void): Server {
  try {
    return createTlsServer({ ...pem, minVersion: 'TLSv1.2' }, accept);
  } catch (error) {
    const why = error instanceof Error ? error.message : String(error);
    throw new Error(`The certificate and key of "mqttTls" don't work together: ${why}.`, { cause: error });
  }
}

const reasons: Readonly<Record<string, string>> = {
  EADDRINUSE: 'the port is in use',
  EADDRNOTAVAIL: 'this machine has no such address',
  ENOTFOUND: 'that name is not known',
};

async function listening(server: Server, { host, port }: ListenOptions): Promise<void> {
  await new Promise<void>((resolve, reject) => {
    const fail = (error: NodeJS.ErrnoException): void => {
      const why = reasons[error.code ?? ''] ?? error.message;
      const sentence = `The embedded broker can't listen on ${host}:${String(port)}: ${why}. Choose another with --mqtt.`;
      reject(new Error(sentence, { cause: error }));
    };
    server.once('error', fail);
    server.listen(port, host, () => {
      server.off('error', fail);
      resolve();
    });
  });
}
