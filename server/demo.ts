/**
 * The invented farm, brought in the way a keeper's own would be: sites, nucs and field log over HTTP, readings
 * over MQTT. History first, as fast as it is acknowledged, then a feed that goes on by the clock.
 */
import { buildDemo, type DemoFarm } from '../simulator/demo.ts';
import { openPublisher, type Publisher } from '../simulator/publish.ts';
import type { ResponseOf } from './http/contract/index.ts';

export interface DemoOptions {
  /** Base address of the dashboard, such as http://127.0.0.1:8480. */
  readonly http: string;
  readonly mqtt: string;
  readonly nowMs: number;
  readonly seed: number;
  /** IANA zone of the invented sites. */
  readonly timeZone: string;
  readonly signal: AbortSignal;
  readonly say: (line: string) => void;
}

type Send = <T>(method: string, path: string, body?: unknown) => Promise<T>;

/** Resolves when the history is in; the live feed then runs until the signal aborts. */
export async function startDemo(options: DemoOptions): Promise<{ readonly ended: Promise<void> }> {
  const { nowMs, seed, signal, say } = options;
  const send = sender(options.http);
  const farm = buildDemo(nowMs, seed, options.timeZone);
  await setUpPlaces(farm, send);
  const publisher = await openPublisher({ url: options.mqtt });
  try {
    await writeLog(farm, send);
    say(`Demo: ${String(farm.nucs.length)} nucs; their history is being sent …`);
    // Packs of one sensor's readings: a third of the messages, and the other open format in use as well.
    const sent = await publisher.publish(farm.readings(), { signal, format: 'senml' });
    await assignChannels(farm, send);
    say(
      `Demo: ${String(farm.nucs.length)} nucs, ${String(sent)} messages of history sent over MQTT; the live feed goes on.`,
    );
  } catch (error) {
    await publisher.close();
    throw error;
  }
  return { ended: feed(farm, publisher, signal) };
}

async function feed(farm: DemoFarm, publisher: Publisher, signal: AbortSignal): Promise<void> {
  try {
    const pace = { kind: 'by-the-clock', factor: 1, startMs: farm.nowMs } as const;
    await publisher.publish(farm.liveFrom(farm.nowMs), { pace, signal });
  } finally {
    await publisher.close();
  }
}

async function setUpPlaces(farm: DemoFarm, send: Send): Promise<void> {
  for (const { key, name, latDeg, lonDeg, timeZone } of farm.sites) {
    await send('POST', 'sites', { id: key, name, latDeg, lonDeg, timeZone });
  }
  for (const { key, name, siteKey } of farm.parents) {
    await send('POST', 'hives', { id: key, name, siteId: siteKey, role: 'parent' });
  }
  for (const { key, name, siteKey, parentKey } of farm.nucs) {
    const batch = farm.sites.find((site) => site.key === siteKey)?.name ?? siteKey;
    await send('POST', 'hives', {
      id: key,
      name,
      siteId: siteKey,
      role: 'nuc',
      parentHiveId: parentKey,
      batch,
      emptyKg: 5.2,
    });
  }
}

/** Channels have appeared by themselves; say where each stands. */
async function assignChannels(farm: DemoFarm, send: Send): Promise<void> {
  const { items } = await send<ResponseOf<'listChannels'>>('GET', 'channels');
  for (const { sensor, quantity, probe, nucKey, siteKey, place, fromMs } of farm.assignments) {
    const channel = items.find(
      (one) => one.sensor === sensor && one.quantity === quantity && one.probe === probe,
    );
    if (!channel) continue;
    const owner = nucKey === undefined ? { siteId: siteKey } : { hiveId: nucKey };
    await send('POST', 'assignments', {
      channelId: channel.id,
      ...owner,
      place,
      from: new Date(fromMs).toISOString(),
    });
  }
}

async function writeLog(farm: DemoFarm, send: Send): Promise<void> {
  for (const { id, nucKey, startingPoint, method, splitMs } of farm.introductions) {
    const queenId = farm.queens.find((queen) => queen.nucKey === nucKey)?.key;
    const plannedSplit = new Date(splitMs).toISOString();
    await send('POST', `nucs/${nucKey}/introductions`, { id, startingPoint, method, queenId, plannedSplit });
    const entries = farm.facts.filter((fact) => fact.introductionId === id);
    const posted = await send<ResponseOf<'postLog'>>('POST', 'log', { entries });
    const refused = posted.items.filter((item) => item.result === 'refused');
    if (refused.length > 0)
      throw new Error(`the demo's log was refused: ${refused.flatMap((item) => item.problems).join('; ')}`);
  }
}

function sender(http: string): Send {
  return async <T>(method: string, path: string, body?: unknown): Promise<T> => {
    const response = await fetch(new URL(`api/v1/${path}`, http.endsWith('/') ? http : `${http}/`), {
      method,
      headers: { 'content-type': 'application/json', origin: new URL(http).origin },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const text = await response.text();
    if (!response.ok) throw new Error(`demo: ${method} ${path} answered ${String(response.status)}: ${text}`);
    return (text === '' ? undefined : JSON.parse(text)) as T;
  };
}
