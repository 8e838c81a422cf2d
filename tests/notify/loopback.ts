/** Real servers on loopback that take mail and webhooks, and can be told to fail, stall and recover. */
import { createServer, type IncomingMessage } from 'node:http';
import type { AddressInfo } from 'node:net';
import { text } from 'node:stream/consumers';
import { SMTPServer } from 'smtp-server';

export type Mood = 'well' | 'busy' | 'refusing' | 'stalling';

export interface MailBox {
  readonly port: number;
  /** Whole messages as they came, in order. */
  readonly received: string[];
  mood: Mood;
  close(): Promise<void>;
}

const refusal = (code: number, said: string): Error => Object.assign(new Error(said), { responseCode: code });

export async function mailServer(password: string): Promise<MailBox> {
  const received: string[] = [];
  const box: { mood: Mood } = { mood: 'well' };
  const server = new SMTPServer({
    authOptional: true,
    allowInsecureAuth: true,
    disabledCommands: ['STARTTLS'],
    logger: false,
    onAuth(auth, _session, done) {
      if (auth.password === password) done(null, { user: auth.username ?? '' });
      else done(refusal(535, 'wrong user or password'));
    },
    onRcptTo({ address }, _session, done) {
      if (address.startsWith('nobody@')) done(refusal(550, 'no such mailbox'));
      else done();
    },
    onData(stream, _session, done) {
      void text(stream).then((message) => {
        if (box.mood === 'busy') done(refusal(451, 'try again later'));
        else if (box.mood === 'refusing') done(refusal(550, 'no such mailbox'));
        else if (box.mood === 'well') {
          received.push(message);
          done();
        }
      });
    },
  });
  server.on('error', () => undefined);
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  return {
    port: (server.server.address() as AddressInfo).port,
    received,
    get mood() {
      return box.mood;
    },
    set mood(mood) {
      box.mood = mood;
    },
    close: () => new Promise((closed) => server.close(closed)),
  };
}

export interface Hook {
  readonly url: string;
  readonly received: {
    readonly key: string;
    readonly authorization: string;
    readonly body: Record<string, unknown>;
  }[];
  /** Answered instead of 204 while set; 0 stalls. */
  status: number;
  retryAfter: string | null;
  close(): Promise<void>;
}

export async function hookServer(): Promise<Hook> {
  const hook: Pick<Hook, 'received' | 'status' | 'retryAfter'> = {
    received: [],
    status: 204,
    retryAfter: null,
  };
  const server = createServer((request: IncomingMessage, response) => {
    void text(request).then((body) => {
      if (hook.status === 0) return;
      if (hook.status < 300) {
        hook.received.push({
          key: String(request.headers['idempotency-key']),
          authorization: String(request.headers.authorization),
          body: body === '' ? {} : (JSON.parse(body) as Record<string, unknown>),
        });
      }
      if (hook.retryAfter !== null) response.setHeader('retry-after', hook.retryAfter);
      response.writeHead(hook.status).end();
    });
  });
  await new Promise<void>((listening) => server.listen(0, '127.0.0.1', listening));
  const { port } = server.address() as AddressInfo;
  return Object.assign(hook, {
    url: `http://127.0.0.1:${String(port)}/hooks/very-private-path`,
    close: () =>
      new Promise<void>((closed) => {
        server.closeAllConnections();
        server.close(() => {
          closed();
        });
      }),
  });
}
