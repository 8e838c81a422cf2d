/** Attacks on accounts: the first password, guessing, tokens, names, event streams and imports. */
import { request } from 'node:http';
import { connect, createServer, type AddressInfo, type Server } from 'node:net';
import {
  dropFolder,
  seenFrom,
  setupCodeOf,
  startServer,
  type RunningServer,
} from '../../support/server-process.ts';
import type { Attack, Outcome } from '../attack.ts';

const password = 'seven lanterns under water';
interface Ask {
  readonly method?: string;
  readonly body?: string;
  readonly headers?: Readonly<Record<string, string>>;
}
interface Answer {
  readonly status: number;
  readonly cookie: string;
  readonly body: string;
}

/** Without Origin, as a program asks. */
function ask(base: string, path: string, { method = 'GET', body, headers = {} }: Ask = {}): Promise<Answer> {
  return new Promise((resolve, reject) => {
    const sent = request(
      new URL(`/api/v1${path}`, base),
      {
        method,
        agent: false,
        headers: {
          ...(body === undefined ? {} : { 'Content-Type': 'application/json' }),
          ...headers,
        },
      },
      (answer) => {
        let text = '';
        answer.setEncoding('utf8').on('data', (piece: string) => (text += piece));
        answer.on('end', () => {
          const cookie = answer.headers['set-cookie']?.[0]?.split(';')[0] ?? '';
          resolve({ status: answer.statusCode ?? 0, cookie, body: text });
        });
      },
    );
    sent.on('error', reject).end(body);
  });
}
const post = (base: string, path: string, body: unknown, headers = {}): Promise<Answer> =>
  ask(base, path, { method: 'POST', body: JSON.stringify(body), headers });

async function withServer(
  args: readonly string[],
  attack: (server: RunningServer) => Promise<Outcome>,
): Promise<Outcome> {
  const server = await startServer({ args });
  try {
    return await attack(server);
  } finally {
    await server.stop();
    dropFolder(server.data);
  }
}

interface Keeper {
  readonly cookie: string;
  /** For changes: where they come from is said. */
  readonly headers: Readonly<Record<string, string>>;
}
async function firstKeeper(server: RunningServer): Promise<Keeper> {
  const first = { name: 'Rowan', password, code: setupCodeOf(server) };
  const { cookie } = await post(server.http, '/password', first);
  return { cookie, headers: { Cookie: cookie, Origin: new URL(server.http).origin } };
}

/** Passes bytes on and adds nothing. */
function plainRelay(to: string): Promise<Server> {
  const { port } = new URL(to);
  const relay = createServer((client) => {
    const onward = connect(Number(port), '127.0.0.1');
    client.on('error', () => onward.destroy()).pipe(onward);
    onward.on('error', () => client.destroy()).pipe(client);
  });
  return new Promise((resolve) => {
    relay.listen(0, '127.0.0.1', () => {
      resolve(relay);
    });
  });
}

const counted = (statuses: readonly number[]): string =>
  [...new Set(statuses)]
    .map((status) => `${String(statuses.filter((one) => one === status).length)} × ${String(status)}`)
    .join(', ');

const throughRelay: Attack = {
  name: 'first password through a plain relay on the machine',
  expected: 'refused without the setup code, as are another person and a backup',
  run: () =>
    withServer([], async (server) => {
      const relay = await plainRelay(server.http);
      const base = `http://127.0.0.1:${String((relay.address() as AddressInfo).port)}`;
      const keeper = { name: 'Mallory', role: 'keeper', password };
      const upload = { 'Content-Type': 'application/vnd.sqlite3' };
      const body = 'SQLite format 3\0';
      const statuses = [
        await ask(base, '/restore/upload', { method: 'POST', body, headers: upload }),
        await post(base, '/people', keeper),
        await post(base, '/password', { ...keeper, code: '0000-0000' }),
        await post(base, '/password', keeper),
      ].map(({ status }) => status);
      relay.close();
      const { passwordSet } = JSON.parse((await ask(server.http, '/me')).body) as { passwordSet: boolean };
      const held = !passwordSet && statuses.join() === '403,409,403,403';
      return { held, seen: `${statuses.join(', ')}; password set: ${String(passwordSet)}` };
    }),
};

const withinMinutes: Attack = {
  name: 'first password within the minutes without a code, through a relay, a proxy or another site’s page',
  expected: 'refused each time; taken from a device at home, once',
  run: async () => {
    const asked = async (peer: string, headers: Readonly<Record<string, string>>): Promise<number> => {
      const server = await startServer({ args: ['--setup-minutes', '15'], env: seenFrom(peer) });
      try {
        const first = { name: 'Mallory', password };
        const { status } = await post(server.http, '/password', first, headers);
        return status === 200 ? (await post(server.http, '/password', first, headers)).status : status;
      } finally {
        await server.stop();
        dropFolder(server.data);
      }
    };
    const statuses = [
      await asked('127.0.0.1', {}),
      await asked('192.168.7.2', { 'X-Forwarded-For': '192.168.7.9' }),
      await asked('203.0.113.9', {}),
      await asked('192.168.7.2', { Origin: 'http://elsewhere.example' }),
      await asked('192.168.7.2', { Host: 'rebound.example' }),
      // Taken; the second time somebody has one.
      await asked('192.168.7.2', {}),
    ].join(', ');
    return { held: statuses === '403, 403, 403, 403, 421, 409', seen: statuses };
  },
};

const tokenAfterChange: Attack = {
  name: 'API token after the password was changed',
  expected: 'ended with the password',
  run: () =>
    withServer([], async (server) => {
      const { headers } = await firstKeeper(server);
      const made = await post(server.http, '/tokens', { name: 'left behind', scope: 'all' }, headers);
      const { token = '' } = JSON.parse(made.body) as { token?: string };
      const bearer = { Authorization: `Bearer ${token}` };
      const before = await ask(server.http, '/people', { headers: bearer });
      const next = { current: password, password: `${password} again` };
      const changed = await post(server.http, '/password/change', next, headers);
      const after = await ask(server.http, '/people', { headers: bearer });
      const seen = `before ${String(before.status)}, change ${String(changed.status)}, after ${String(after.status)}`;
      return { held: before.status === 200 && changed.status === 200 && after.status === 401, seen };
    }),
};

const forgedHeader: Attack = {
  name: 'forged Authorization header beside a session',
  expected: 'the session counts; without one 401',
  run: () =>
    withServer([], async (server) => {
      const { cookie } = await firstKeeper(server);
      const statuses: number[] = [];
      for (const Authorization of ['Basic cHJveHk6cHJveHk=', 'Bearer welcomb_forged', 'x']) {
        statuses.push(
          (await ask(server.http, '/nucs', { headers: { Cookie: cookie, Authorization } })).status,
        );
        statuses.push((await ask(server.http, '/nucs', { headers: { Authorization } })).status);
      }
      return { held: statuses.join() === '200,401,200,401,200,401', seen: statuses.join(', ') };
    }),
};

const guessing: Attack = {
  name: 'guessing one password from many addresses',
  expected: 'at most 30 tries an hour for an account; its owner gets in where he did before',
  run: (size) =>
    withServer(['--trusted-proxies', 'loopback'], async (server) => {
      await firstKeeper(server);
      const signIn = (given: string, address: string): Promise<Answer> =>
        post(
          server.http,
          '/session',
          { name: 'Rowan', password: given },
          { 'X-Forwarded-For': address, Origin: new URL(server.http).origin },
        );
      const home = await signIn(password, '192.0.2.1');
      const tries = size === 'full' ? 200 : 34;
      const guesses = await Promise.all(
        Array.from({ length: tries }, (_, i) =>
          signIn(`guess number ${String(i)}`, `198.51.100.${String(i + 1)}`),
        ),
      );
      const statuses = guesses.map(({ status }) => status);
      const again = await signIn(password, '192.0.2.1');
      const answered = statuses.filter((status) => status === 401).length;
      const held = answered <= 30 && home.status === 200 && again.status === 200;
      return { held, seen: `${counted(statuses)}; the owner ${String(again.status)}` };
    }),
};

const weak: Attack = {
  name: 'easy passwords and names that deceive',
  expected: 'refused',
  run: (size) =>
    withServer([], async (server) => {
      const { headers } = await firstKeeper(server);
      const easy = ['aaaaaaaaaa', 'password123', ...(size === 'full' ? ['1234567890', 'qwertzuiop'] : [])];
      const names = ['R\u043ewan', 'Ro\u200bwan', 'rowan', 'Ash\u202egnorw', 'R0wan'];
      const bodies = [
        ...easy.map((one, i) => ({ name: `Ash ${'abcd'.charAt(i)}`, password: one })),
        ...names.map((name) => ({ name, password })),
      ];
      const taken: string[] = [];
      for (const body of bodies) {
        const answer = await post(server.http, '/people', { ...body, role: 'keeper' }, headers);
        if (answer.status < 400) taken.push(JSON.stringify(body));
      }
      return {
        held: taken.length === 0,
        seen: `taken: ${taken.join(' ') || 'none'} of ${String(bodies.length)}`,
      };
    }),
};

const writtenByAnother: Attack = {
  name: 'log entry in somebody else’s name',
  expected: 'by is who sent it; the other name stands as on behalf of',
  run: () =>
    withServer([], async (server) => {
      const { headers } = await firstKeeper(server);
      const site = { id: 'site-0001', name: 'Lower Orchard', latDeg: 50, lonDeg: 8, timeZone: 'UTC' };
      await post(server.http, '/sites', site, headers);
      const nuc = { id: 'nuc-00001', name: 'Nuc 1', siteId: site.id, role: 'nuc' };
      await post(server.http, '/hives', nuc, headers);
      const introduction = { id: 'intro-00001', startingPoint: 'planned-split', method: 'candy-cage' };
      await post(server.http, `/nucs/${nuc.id}/introductions`, introduction, headers);
      const entry = {
        type: 'fact',
        id: 'note-00001',
        introductionId: introduction.id,
        happenedAtMs: Date.now(),
        writtenAtMs: Date.now(),
        by: 'The inspector',
        fact: { kind: 'note' },
      };
      await post(server.http, '/log', { entries: [entry] }, headers);
      const { body } = await ask(server.http, '/export/log.csv', {
        headers: { Cookie: headers['Cookie'] ?? '' },
      });
      const row = body.split('\r\n')[1] ?? '';
      return { held: row.includes(',Rowan,') && row.endsWith(',The inspector'), seen: row.slice(0, 160) };
    }),
};

const stranger: Attack = {
  name: 'a stranger asks /me about the farm',
  expected: 'the same answer whatever the farm has',
  run: () =>
    withServer([], async (server) => {
      const { headers } = await firstKeeper(server);
      const put = { method: 'PUT', body: JSON.stringify({ farmName: 'Hidden Hollow' }), headers };
      const changed = await ask(server.http, '/settings/farm', put);
      const { body } = await ask(server.http, '/me');
      return { held: changed.status === 200 && !body.includes('Hidden'), seen: body.slice(0, 120) };
    }),
};

/** Opens a stream and leaves it open; resolves with the status. */
const listen = (base: string, cookie: string, open: (() => void)[]): Promise<number> =>
  new Promise((resolve, reject) => {
    const headers = { Cookie: cookie };
    const stream = request(new URL('/api/v1/events', base), { agent: false, headers }, (answer) => {
      answer.resume();
      resolve(answer.statusCode ?? 0);
    });
    stream.on('error', reject).end();
    open.push(() => stream.destroy());
  });

const allStreams: Attack = {
  name: 'one viewer takes all event streams',
  expected: 'at most 10 a session and 20 a person; another person still gets one',
  run: (size) =>
    withServer([], async (server) => {
      const { cookie, headers } = await firstKeeper(server);
      const viewer = { name: 'Ash', role: 'viewer', password };
      await post(server.http, '/people', viewer, headers);
      const origin = { Origin: headers['Origin'] ?? '' };
      const open: (() => void)[] = [];
      const statuses: number[] = [];
      for (let i = 0; i < 3; i += 1) {
        const session = await post(server.http, '/session', viewer, origin);
        for (let j = 0; j < (size === 'full' ? 50 : 35); j += 1)
          statuses.push(await listen(server.http, session.cookie, open));
      }
      const keeper = await listen(server.http, cookie, open);
      for (const close of open) close();
      const taken = statuses.filter((status) => status === 200).length;
      return {
        held: taken <= 20 && keeper === 200,
        seen: `${counted(statuses)}; another person ${String(keeper)}`,
      };
    }),
};

/** The longest that the server took to say that it is healthy while `busy` was under way, ms. */
async function longestWait(base: string, busy: Promise<unknown>): Promise<number> {
  const state = { done: false };
  const mark = (): void => {
    state.done = true;
  };
  void busy.then(mark, mark);
  let longest = 0;
  while (!state.done) {
    const from = performance.now();
    await new Promise<void>((resolve, reject) => {
      request(new URL('/healthz', base), { agent: false }, (answer) => {
        answer.resume().on('end', resolve);
      })
        .on('error', reject)
        .end();
    });
    longest = Math.max(longest, performance.now() - from);
  }
  return longest;
}

const badLines: Attack = {
  name: 'import of bad lines only',
  expected:
    'stopped with a word after 1,000; the server answers others within a second, or a quarter of the time that it takes',
  run: (size) =>
    withServer([], async (server) => {
      const { headers } = await firstKeeper(server);
      const head = { kind: 'welcomb-export', format: 1, version: '0', exportedAt: '2031-05-01T00:00:00Z' };
      const channel = { sensor: 's', quantity: 'weight', probe: '', unit: 'kg' };
      const bad = JSON.stringify({
        kind: 'readings',
        channel,
        readings: Array.from({ length: 5000 }, () => 0),
      });
      const many = `${bad}\n`.repeat(size === 'full' ? 100 : 5);
      const file = `${JSON.stringify(head)}\n${many}${'{"kind":"x"}\n'.repeat(size === 'full' ? 2_000_000 : 100_000)}`;
      const sent = ask(server.http, '/import/everything.jsonl', {
        method: 'POST',
        body: file,
        headers: { ...headers, 'Content-Type': 'application/jsonl' },
      });
      const began = performance.now();
      const waited = await longestWait(server.http, sent);
      const { status, body } = await sent;
      const tookS = (performance.now() - began) / 1000;
      const { stopped = '' } = JSON.parse(body) as { stopped?: string };
      const seen = `${String(status)} after ${tookS.toFixed(1)} s, others waited up to ${waited.toFixed(0)} ms; ${stopped.slice(0, 40)}`;
      return { held: status === 200 && stopped !== '' && waited < Math.max(1000, (tookS * 1000) / 4), seen };
    }),
};

export const accountAttacks: readonly Attack[] = [
  throughRelay,
  withinMinutes,
  tokenAfterChange,
  forgedHeader,
  guessing,
  weak,
  writtenByAnother,
  stranger,
  allStreams,
  badLines,
];
