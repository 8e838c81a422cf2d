/** Attacks on the embedded broker: by strangers, and by one device on others and on the server. */
import { connect, type Socket } from 'node:net';
import { readFileSync } from 'node:fs';
import mqtt, { type IClientOptions, type MqttClient } from 'mqtt';
import mqttPacket from 'mqtt-packet';
import {
  dropFolder,
  newFolder,
  setupCodeOf,
  startServer,
  type RunningServer,
} from '../../support/server-process.ts';
import type { Attack, Outcome } from '../attack.ts';

const password = 'propolis-14';
/** Against what hangs: a busy machine makes everything slower. */
const patienceMs = 30_000;
const pause = (ms: number): Promise<void> => new Promise((resolve) => setTimeout(resolve, ms));
const portOf = (server: RunningServer): number => Number(new URL(server.mqtt).port);

async function withServer(run: (server: RunningServer) => Promise<Outcome>): Promise<Outcome> {
  const data = newFolder();
  const server = await startServer({ data });
  try {
    return await run(server);
  } finally {
    await server.stop();
    dropFolder(data);
  }
}

const addDevice = (server: RunningServer, name: string, ownTopicsOnly?: boolean): Promise<unknown> =>
  server.send('POST', '/api/v1/devices', { name, password, ownTopicsOnly });

async function join(server: RunningServer, options: IClientOptions): Promise<MqttClient> {
  return mqtt.connectAsync(server.mqtt, { password, reconnectPeriod: 0, ...options });
}

/** What waited for a session: `expected` of it, and what else comes within a moment of its start. */
async function waitingFor(
  server: RunningServer,
  options: IClientOptions,
  expected = 0,
): Promise<readonly string[]> {
  const heard: string[] = [];
  const client = mqtt.connect(server.mqtt, { password, reconnectPeriod: 0, ...options });
  client.on('error', () => undefined);
  client.on('message', (topic) => heard.push(topic));
  const isThere = (): boolean => client.connected && heard.length >= expected;
  for (let waited = 0; !isThere() && waited < patienceMs; waited += 20) await pause(20);
  await pause(700);
  await client.endAsync(true);
  return heard;
}

/**
 * Connects and says `bytes`; resolves with the answer, or with nothing when the other side closes or after a while.
 * With `then` says that to the answer, and resolves when the other side closes.
 */
function say(port: number, bytes: Buffer, forMs: number, then?: Buffer): Promise<Buffer> {
  return new Promise((resolve) => {
    const socket: Socket = connect(port, '127.0.0.1', () => socket.write(bytes));
    const heard: Buffer[] = [];
    const end = (): void => {
      clearTimeout(timer);
      socket.destroy();
      resolve(Buffer.concat(heard));
    };
    const timer = setTimeout(end, forMs);
    socket.on('data', (chunk) => {
      heard.push(chunk);
      if (then) socket.write(then);
      else end();
    });
    socket.on('error', end);
    socket.on('close', end);
  });
}

const hello = (clientId: string, name: string, guess: string): Buffer =>
  mqttPacket.generate({
    cmd: 'connect',
    protocolId: 'MQTT',
    protocolVersion: 4,
    clean: true,
    keepalive: 60,
    clientId,
    username: name,
    password: Buffer.from(guess),
  });

const accepted = (answer: Buffer): boolean => answer[0] === 0x20 && answer[3] === 0;

/** Resident memory in MB (Linux). */
const residentMb = (server: RunningServer): number =>
  Number(/VmRSS:\s+(\d+)/.exec(readFileSync(`/proc/${String(server.process.pid)}/status`, 'utf8'))?.[1]) /
  1024;

const keepersPassword = 'lantern gravel marzipan';
const guesses: Attack = {
  name: 'mqtt: the right password among many guesses at once',
  expected:
    'few are checked, none gets in; a person signs in within 5 s meanwhile, or ten times as long as alone',
  run: (size) =>
    withServer(async (server) => {
      await addDevice(server, 'scale-1');
      await server.send('POST', '/api/v1/password', {
        name: 'Rowan',
        password: keepersPassword,
        code: setupCodeOf(server),
      });
      const signInS = async (): Promise<number> => {
        const started = performance.now();
        await server.send('POST', '/api/v1/session', { name: 'Rowan', password: keepersPassword });
        return (performance.now() - started) / 1000;
      };
      const aloneS = await signInS();
      const many = size === 'full' ? 300 : 60;
      const flood = Promise.all(
        Array.from({ length: many }, (_, at) =>
          say(
            portOf(server),
            hello(`g${String(at)}`, 'scale-1', at === many - 1 ? password : `guess ${String(at)}`),
            size === 'full' ? 240_000 : 30_000,
          ),
        ),
      );
      await pause(300);
      const besideS = await signInS();
      const inside = (await flood).filter(accepted).length;
      return {
        held: inside === 0 && besideS < Math.max(5, 10 * aloneS),
        seen: `${String(inside)} of ${String(many)} got in, sign-in took ${besideS.toFixed(1)} s, alone ${aloneS.toFixed(1)} s`,
      };
    }),
};

const takeover: Attack = {
  name: 'mqtt: another device’s client id',
  expected: 'its session stays its own',
  run: () =>
    withServer(async (server) => {
      await addDevice(server, 'hub', false);
      await addDevice(server, 'thief', true);
      const victim = await join(server, { username: 'hub', clientId: 'hub-1', clean: false });
      await victim.subscribeAsync('welcomb/#', { qos: 1 });
      await victim.endAsync();
      const sensor = await join(server, { username: 'hub' });
      for (let at = 0; at < 20; at += 1)
        await sensor.publishAsync(`welcomb/s${String(at)}/weight`, '12', { qos: 1 });
      await sensor.endAsync();
      const stolen = await waitingFor(server, { username: 'thief', clientId: 'hub-1', clean: false });
      const own = await waitingFor(server, { username: 'hub', clientId: 'hub-1', clean: false }, 20);
      return {
        held: stolen.length === 0 && own.length === 20,
        seen: `${String(stolen.length)} of 20 messages read by the thief, ${String(own.length)} by their owner`,
      };
    }),
};

const refusedFilter: Attack = {
  name: 'mqtt: a forbidden filter beside an allowed one',
  expected: 'nothing of it is kept for the session',
  run: () =>
    withServer(async (server) => {
      await addDevice(server, 'hub', false);
      await addDevice(server, 'thief', true);
      const who = { username: 'thief', clientId: 'id', clean: false };
      const thief = await join(server, who);
      await thief.subscribeAsync(['welcomb/thief/#', '#'], { qos: 1 }).catch(() => undefined);
      await thief.endAsync();
      const sensor = await join(server, { username: 'hub' });
      await sensor.publishAsync('welcomb/s/weight', '12', { qos: 1 });
      await sensor.endAsync();
      const heard = await waitingFor(server, who);
      return { held: heard.length === 0, seen: `${String(heard.length)} of 1 forbidden messages read` };
    }),
};

async function isRefused(work: Promise<unknown>): Promise<boolean> {
  return work.then(
    () => false,
    () => true,
  );
}

const names: Attack = {
  name: 'mqtt: device names with wildcards, and $SYS',
  expected: 'refused; a new device may use its own topics only',
  run: () =>
    withServer(async (server) => {
      let got = 0;
      for (const name of ['+', '#', 'a/b', '$SYS', 'a\u0007b'])
        if (!(await isRefused(addDevice(server, name)))) got += 1;
      await addDevice(server, 'scale-1');
      const device = await join(server, { username: 'scale-1' });
      for (const filter of ['$SYS/#', '#', 'welcomb/+/weight'])
        if (!(await isRefused(device.subscribeAsync(filter)))) got += 1;
      await device.endAsync();
      return { held: got === 0, seen: `${String(got)} of 8 taken` };
    }),
};

const logFlood: Attack = {
  name: 'mqtt: client ids of 60 kB, to fill the log',
  expected: 'less than 10 kB a minute',
  run: (size) =>
    withServer(async (server) => {
      const many = size === 'full' ? 1000 : 100;
      const before = server.output().length;
      for (let at = 0; at < many; at += 20)
        await Promise.all(
          Array.from({ length: 20 }, (_, one) => {
            const greeting = mqttPacket.generate({
              cmd: 'connect',
              protocolId: 'MQTT',
              protocolVersion: 4,
              clean: true,
              keepalive: 60,
              clientId: `${String(at + one)}-`.padEnd(60_000, 'x'),
            });
            // What follows is no packet: the broker complains of who sent it.
            return say(portOf(server), greeting, 5000, Buffer.from([0xf0, 0x01, 0x00]));
          }),
        );
      await pause(200);
      const bytes = server.output().length - before;
      return { held: bytes < 10_000, seen: `${String(bytes)} bytes by ${String(many)} connections` };
    }),
};

const retained: Attack = {
  name: 'mqtt: retained messages without end',
  expected: 'memory grows by less than 40 MB',
  run: (size) =>
    withServer(async (server) => {
      await addDevice(server, 'hub', false);
      const hub = await join(server, { username: 'hub' });
      const before = residentMb(server);
      const many = size === 'full' ? 30_000 : 1500;
      const payload = Buffer.alloc(4000, 0x31);
      for (let at = 0; at < many; at += 100)
        await Promise.all(
          Array.from({ length: 100 }, (_, one) =>
            hub.publishAsync(`other/${String(at + one)}`, payload, { qos: 1, retain: true }),
          ),
        );
      await hub.endAsync();
      let kept = 0;
      const listener = await join(server, { username: 'hub' });
      listener.on('message', () => (kept += 1));
      await listener.subscribeAsync('other/#');
      await pause(1000);
      await listener.endAsync(true);
      const grownMb = residentMb(server) - before;
      return {
        held: kept <= 500 && grownMb < 40,
        seen: `${String(kept)} of ${String(many)} retained, ${grownMb.toFixed(0)} MB more`,
      };
    }),
};

const idlers: Attack = {
  name: 'mqtt: connections that say nothing take every place',
  expected: 'a device still gets in',
  run: () =>
    withServer(async (server) => {
      const sockets = Array.from({ length: 520 }, () => {
        const socket = connect(portOf(server), '127.0.0.1');
        socket.on('error', () => undefined);
        return socket;
      });
      const openNow = (): number => sockets.filter(({ destroyed }) => !destroyed).length;
      // Those beyond the bound are closed at once, the others after ten seconds of silence.
      const beganMs = performance.now();
      while (openNow() > 250 && performance.now() - beganMs < 9000) await pause(20);
      const open = openNow();
      // Another machine's address, as far as one machine has several.
      const socket = connect({ port: portOf(server), host: '127.0.0.1', localAddress: '127.0.0.2' });
      socket.on('error', () => undefined);
      socket.write(
        mqttPacket.generate({
          cmd: 'connect',
          protocolId: 'MQTT',
          protocolVersion: 4,
          clean: true,
          keepalive: 60,
          clientId: 'sensor',
        }),
      );
      const answer = await Promise.race([
        new Promise<Buffer>((resolve) => socket.once('data', resolve)),
        pause(patienceMs).then(() => Buffer.alloc(0)),
      ]);
      socket.destroy();
      for (const each of sockets) each.destroy();
      return {
        held: accepted(answer) && open <= 250,
        seen: `${String(open)} of 520 stay open, a device ${accepted(answer) ? 'gets in' : 'stays out'}`,
      };
    }),
};

export const embeddedAttacks: readonly Attack[] = [
  guesses,
  takeover,
  refusedFilter,
  names,
  logFlood,
  retained,
  idlers,
];
