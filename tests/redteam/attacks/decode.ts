/** Attacks by what a message or a request says: nesting, size, bytes, and names made up without end. */
import { connectAsync, type MqttClient } from 'mqtt';
import type { ResponseOf } from '../../../server/contract/index.ts';
import { startMosquitto } from '../../ingest/support/mosquitto.ts';
import {
  announcement,
  hostileBodies,
  hostileTopics,
  mapping,
  nested,
} from '../../support/hostile-messages.ts';
import { mosquitto } from '../../support/programs.ts';
import { dropFolder, newFolder, startServer, type RunningServer } from '../../support/server-process.ts';
import { until } from '../../support/until.ts';
import type { Attack, Outcome } from '../attack.ts';

const manyBytes = { small: 1_000_000, full: 10_000_000 };
const mappingPath = '/api/v1/mappings/hostile';

const isAlive = (server: RunningServer): boolean => server.process.exitCode === null;

async function within<T>(ms: number, what: string, work: Promise<T>): Promise<T> {
  let timer: NodeJS.Timeout | undefined;
  const late = new Promise<never>((_resolve, reject) => {
    timer = setTimeout(() => {
      reject(new Error(what));
    }, ms);
  });
  return Promise.race([work, late]).finally(() => {
    clearTimeout(timer);
  });
}

/** A client that does not come back by itself, so that a message is sent once. */
const connectOnce = (url: string): Promise<MqttClient> => connectAsync(url, { reconnectPeriod: 0 });

const channelsOf = async (server: RunningServer): Promise<ResponseOf<'listChannels'>['items']> =>
  (await server.get<ResponseOf<'listChannels'>>('/api/v1/channels')).items;

const hasChannel = async (server: RunningServer, name: string): Promise<true | undefined> =>
  (await channelsOf(server)).some(({ sensor }) => sensor === name) ? true : undefined;

async function prepare(server: RunningServer, client: MqttClient): Promise<void> {
  await server.send('PUT', mappingPath, { name: 'hostile', mapping });
  await client.publishAsync(announcement.topic, announcement.payload, { qos: 1, retain: true });
}

/** Every topic with every body; how many were sent. Fails where one is not acknowledged. */
async function sendAll(client: MqttClient, size: 'small' | 'full'): Promise<number> {
  let sent = 0;
  for (const topic of hostileTopics) {
    const all = hostileBodies(manyBytes[size]).map(({ body }) =>
      client.publishAsync(topic, body, { qos: 1 }),
    );
    await within(60_000, `no acknowledgement of a message on ${topic}`, Promise.all(all));
    sent += all.length;
  }
  return sent;
}

/** After everything: an honest reading is still taken. */
async function verdict(server: RunningServer, client: MqttClient, what: string): Promise<Outcome> {
  await client.publishAsync('welcomb/honest/weight', '12.5', { qos: 1 });
  await until(() => (isAlive(server) ? hasChannel(server, 'honest') : true), 30_000);
  const { items } = await server.get<ResponseOf<'listQuarantine'>>('/api/v1/quarantine');
  const failed = server.output().includes('could not be read: please report');
  const seen = `${what}; ${String(items.length)} in quarantine${failed ? '; a decoder failed' : ''}`;
  return { held: isAlive(server) && items.length > 0 && !failed, seen };
}

const embedded: Attack = {
  name: 'hostile messages from a device',
  expected: 'all acknowledged, in quarantine where they are no readings; the server goes on',
  async run(size) {
    const server = await startServer();
    const client = await connectOnce(server.mqtt);
    try {
      await prepare(server, client);
      const sent = await sendAll(client, size);
      return await verdict(server, client, `${String(sent)} messages acknowledged`);
    } finally {
      await client.endAsync(true);
      await server.kill();
      dropFolder(server.data);
    }
  },
};

const outside: Attack = {
  name: 'hostile messages that wait at the keeper’s own broker',
  expected: 'taken at every start, acknowledged, in quarantine; the server goes on',
  async run(size) {
    const broker = await startMosquitto(true);
    const data = newFolder();
    const args = ['--broker', broker.url];
    const client = await connectAsync(broker.url);
    let server = await startServer({ data, args });
    const connected = () =>
      until(async () => {
        const { broker: state } = await server.get<ResponseOf<'status'>>('/api/v1/status');
        return state.connected ? true : undefined;
      }, 20_000);
    try {
      await connected();
      await prepare(server, client);
      await server.kill();
      // They wait in the session of the server that is away.
      const sent = await sendAll(client, size);
      server = await startServer({ data, args });
      await connected();
      return await verdict(server, client, `${String(sent)} messages waited`);
    } finally {
      await client.endAsync(true);
      await server.kill();
      await broker.remove();
      dropFolder(data);
    }
  },
};

/** What a body may hold beside depth; it may be refused or taken, and must be no mistake of the server's. */
const oddValues: readonly string[] = [
  '{"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}}}',
  '9'.repeat(5000),
  '1e400',
  '"\\u0000"',
  '"\\ud800"',
  JSON.stringify('x'.repeat(500_000)),
  JSON.stringify(Array.from({ length: 50_000 }, () => ({}))),
];

/** Paths that take JSON, with a body around `inner` (JSON text). */
const jsonRequests: readonly (readonly [string, string, (inner: string) => string])[] = [
  ['POST', '/api/v1/mappings/try', (inner) => `{"mapping":${inner},"topic":"a","payload":"1"}`],
  [
    'POST',
    '/api/v1/mappings/import',
    (inner) => `{"format":"welcomb-mappings","version":1,"mappings":[{"a":${inner}}]}`,
  ],
  ['PUT', mappingPath, (inner) => `{"name":"a","mapping":{"topic":${inner}}}`],
  ['PUT', '/api/v1/settings/farm', (inner) => `{"name":${inner}}`],
  ['PUT', '/api/v1/sites/s', (inner) => `{"name":${inner}}`],
  ['POST', '/api/v1/log', (inner) => `{"entries":[${inner}]}`],
  ['POST', '/api/v1/session', (inner) => inner],
];

async function ask(
  server: RunningServer,
  method: string,
  path: string,
  type: string,
  body: string,
): Promise<Response> {
  const headers = { 'content-type': type, origin: new URL(server.http).origin };
  return fetch(new URL(path, server.http), { method, headers, body });
}

const overHttp: Attack = {
  name: 'deeply nested and odd JSON over HTTP',
  expected:
    'nesting refused with 4xx (an import line in its report), odd values never a 5xx; the server goes on',
  async run(size) {
    const server = await startServer();
    const depths = size === 'small' ? [65, 20_000] : [65, 200, 2000, 20_000, 400_000];
    const wrong: string[] = [];
    let asked = 0;
    const expectRefusal = async (what: string, response: Response): Promise<void> => {
      asked += 1;
      const text = await response.text();
      if (response.status < 400 || response.status > 499)
        wrong.push(`${what}: ${String(response.status)} ${text.slice(0, 100)}`);
    };
    try {
      for (const depth of depths) {
        const inner = nested(depth);
        for (const [method, path, around] of jsonRequests) {
          await expectRefusal(
            `${method} ${path}`,
            await ask(server, method, path, 'application/json', around(inner)),
          );
        }
        if (depth < 30_000) {
          const tried = JSON.stringify({ mapping, topic: 'mapped/s', payload: `{"value":${inner}}` });
          const answer = await ask(server, 'POST', '/api/v1/mappings/try', 'application/json', tried);
          asked += 1;
          if (!(await answer.text()).includes('nested'))
            wrong.push(`mappings/try with ${String(depth)} levels`);
        }
        const lines = `{"kind":"welcomb-export","format":1,"version":"0.1.0","exportedAt":"2026-05-14T06:00:00Z"}\n{"kind":"setting","key":"name","value":${inner}}\n`;
        const taken = await ask(
          server,
          'POST',
          '/api/v1/import/everything.jsonl',
          'application/jsonl',
          lines,
        );
        asked += 1;
        const report = await taken.text();
        if (!report.includes('nested')) wrong.push(`import: ${String(taken.status)} ${report.slice(0, 200)}`);
      }
      for (const [method, path, around] of jsonRequests) {
        for (const value of oddValues) {
          const { status } = await ask(server, method, path, 'application/json', around(value));
          asked += 1;
          if (status >= 500) wrong.push(`${method} ${path} with ${value.slice(0, 20)}: ${String(status)}`);
        }
      }
      const farm = JSON.stringify(await server.get('/api/v1/settings/farm'));
      if (farm.includes('polluted')) wrong.push('a prototype was changed');
      const health = await fetch(new URL('/healthz', server.http));
      const held = health.ok && isAlive(server) && wrong.length === 0;
      return {
        held,
        seen: `${String(asked)} requests; ${wrong.length === 0 ? 'none failed' : wrong.join('; ')}`,
      };
    } finally {
      await server.kill();
      dropFolder(server.data);
    }
  },
};

/** Each at QoS 1, many at once. */
async function invent(client: MqttClient, names: number, first: number): Promise<void> {
  for (let from = 0; from < names; from += 1000) {
    const some = Array.from({ length: Math.min(1000, names - from) }, (_, i) =>
      client.publishAsync(`welcomb/invented-${String(first + from + i)}/weight`, '1', { qos: 1 }),
    );
    await within(60_000, 'no acknowledgement of an invented name', Promise.all(some));
  }
}

const inventedNames: Attack = {
  name: 'names of sensors made up without end',
  expected:
    'at most 3,000 channels stay, the rest is in quarantine; they can be forgotten, and another sensor comes in',
  async run(size) {
    const server = await startServer();
    const client = await connectOnce(server.mqtt);
    try {
      await invent(client, size === 'small' ? 3200 : 20_000, 0);
      const pack = Array.from({ length: 200 }, (_, i) => ({
        n: `temperature/p${String(i)}`,
        u: 'Cel',
        v: 1,
      }));
      await client.publishAsync('welcomb/invented-0', JSON.stringify(pack), { qos: 1 });
      const made = await until(async () => {
        const found = await channelsOf(server);
        return found.length >= 3000 ? found : undefined;
      }, 30_000);
      const { items } = await server.get<ResponseOf<'listQuarantine'>>('/api/v1/quarantine');
      const told = items.filter(({ reason }) => reason.includes('not assigned: assign them, or forget them'));
      const ids = made.map(({ id }) => id);
      const start = performance.now();
      const { forgotten } = await server.send<ResponseOf<'forgetChannels'>>(
        'POST',
        '/api/v1/channels/forget',
        { ids },
      );
      const tookMs = Math.round(performance.now() - start);
      await client.publishAsync('welcomb/honest/weight', '12.5', { qos: 1 });
      await until(() => hasChannel(server, 'honest'), 10_000);
      const left = (await channelsOf(server)).length;
      const seen = `${String(made.length)} channels; ${String(told.length)} reasons in quarantine; ${String(forgotten)} forgotten in ${String(tookMs)} ms; ${String(left)} left`;
      return {
        held: made.length <= 3000 && told.length > 0 && forgotten === made.length && left === 1,
        seen,
      };
    } finally {
      await client.endAsync(true);
      await server.kill();
      dropFolder(server.data);
    }
  },
};

export const decodeAttacks: readonly Attack[] = [
  embedded,
  ...(mosquitto === undefined ? [] : [outside]),
  overHttp,
  inventedNames,
];
