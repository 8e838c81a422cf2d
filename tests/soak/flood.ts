/**
 * Eight hours of a flood on the embedded broker, as fast as it takes them: 50 nucs that report once a minute, a
 * subscriber that went away and never came back, a device that retains on a new topic each second, and one that
 * subscribes under a new client id every ten seconds and leaves. Memory has to stay flat from the second hour on.
 */
import { join } from 'node:path';
import { fileURLToPath } from 'node:url';
import mqtt from 'mqtt';
import { startChild, type Child } from './child.ts';

const program = fileURLToPath(new URL('./serve.ts', import.meta.url));
const nucs = 50;
const quantities = ['weight', 'temperature', 'humidity', 'battery'];
const retainedPerHour = 3600;
const visitorsPerHour = 360;
/** Of resident memory after the second hour. */
export const mostGrowth = 1.15;

export interface FloodResult {
  readonly hours: number;
  /** Resident memory after each hour, MB. */
  readonly residentMb: readonly number[];
  /** The last hour's to the second's. */
  readonly growth: number;
  readonly messages: number;
}

async function residentMb(server: Child): Promise<number> {
  server.ask('count');
  const [, bytes] = (await server.answer('count')).split(' ');
  return Math.round(Number(bytes) / 1024 / 1024);
}

export async function flood(
  folder: string,
  hours: number,
  onProgress: (line: string) => void,
): Promise<FloodResult> {
  const server = startChild(program, [join(folder, 'flood.db'), 'embedded', '0', 'unlimited']);
  const url = `mqtt://127.0.0.1:${await server.answer('ready')}`;
  const visit = async (clientId: string): Promise<void> => {
    const visitor = await mqtt.connectAsync(url, { clientId, clean: false, reconnectPeriod: 0 });
    await visitor.subscribeAsync('#', { qos: 1 });
    await visitor.endAsync();
  };
  await visit('forgotten');
  const client = await mqtt.connectAsync(url);
  let messages = 0;
  const tell = async (topic: string, payload: string | Buffer, retain: boolean): Promise<void> => {
    messages += 1;
    await client.publishAsync(topic, payload, { qos: 1, retain });
  };
  const startMs = Date.now() - hours * 3600_000;
  const load = Buffer.alloc(200, 0x78);
  const resident: number[] = [];
  for (let hour = 0; hour < hours; hour += 1) {
    for (let minute = 0; minute < 60; minute += 1) {
      const time = startMs + (hour * 60 + minute) * 60_000;
      const readings = Array.from({ length: nucs }, (_, nuc) =>
        quantities.map((quantity) =>
          tell(
            `welcomb/nuc-${String(nuc)}/${quantity}`,
            JSON.stringify({ value: 12 + minute / 60, time }),
            false,
          ),
        ),
      );
      const perMinute = retainedPerHour / 60;
      const left = Array.from({ length: perMinute }, (_, at) =>
        tell(`other/${String((hour * 60 + minute) * perMinute + at)}`, load, true),
      );
      await Promise.all([...readings.flat(), ...left]);
      for (let at = 0; at < visitorsPerHour / 60; at += 1)
        await visit(`visitor-${String(hour)}-${String(minute)}-${String(at)}`);
    }
    resident.push(await residentMb(server));
    onProgress(`hour ${String(hour + 1)}: ${String(resident.at(-1))} MB resident`);
  }
  await client.endAsync();
  await server.kill('SIGTERM');
  const growth = (resident.at(-1) ?? 0) / (resident[1] ?? 1);
  return { hours, residentMb: resident, growth, messages };
}
