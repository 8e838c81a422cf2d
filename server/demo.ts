/**
 * The invented farm, brought in the way a keeper's own would be: sites, nucs and field log over HTTP, readings
 * over MQTT. History first, as fast as it is acknowledged, then a feed that goes on by the clock.
 */
import { buildDemo, type DemoFarm } from '../simulator/demo/demo.ts';
import { isoDate, onDayAt } from './introduction/calendar.ts';
import { openPublisher, type Publisher } from '../simulator/sending/publish.ts';
import type { ResponseOf } from './contract/index.ts';

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
  await writeDown(farm, options.http);
  const publisher = await openPublisher({ url: options.mqtt });
  try {
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

/** All that a keeper would write down: places, queens on order, the field log, nucs to come. */
export async function writeDown(farm: DemoFarm, http: string): Promise<void> {
  const send = sender(http);
  await setUpPlaces(farm, send);
  await orderQueens(farm, send);
  await writeLog(farm, send);
  await planAhead(farm, send);
  // Sold, or united: their records stay.
  for (const { key } of farm.finished.nucs) await send('PATCH', `hives/${key}`, { retired: true });
}

async function setUpPlaces(farm: DemoFarm, send: Send): Promise<void> {
  for (const { key, name, latDeg, lonDeg, timeZone } of farm.sites) {
    await send('POST', 'sites', { id: key, name, latDeg, lonDeg, timeZone });
  }
  for (const { key, name, siteKey } of farm.parents) {
    await send('POST', 'hives', { id: key, name, siteId: siteKey, role: 'parent' });
  }
  const current = farm.nucs.map((one) => ({
    ...one,
    batch: farm.sites.find((site) => site.key === one.siteKey)?.name ?? one.siteKey,
  }));
  const finished = farm.finished.nucs.map((one) => ({ ...one, batch: farm.finished.batch }));
  for (const { key, name, siteKey, parentKey, batch } of [...finished, ...current]) {
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

/** Queens on order, one delivery then put off, as the keeper would note it. */
async function orderQueens(farm: DemoFarm, send: Send): Promise<void> {
  const zone = farm.sites[0]?.timeZone ?? 'UTC';
  const on = (day: number): string => isoDate(onDayAt(farm.nowMs, day, 12, zone), zone);
  for (const { key, name, source, day, movedToDay, queens, dead, arrived, note } of farm.deliveries) {
    const ordered = { name, source, expected: on(day), queens, dead, note };
    const state = arrived ? { state: 'arrived', arrived: on(day) } : { state: 'ordered' };
    await send('POST', 'arrivals', { id: key, ...ordered, ...state });
    if (movedToDay === undefined) continue;
    await send('PUT', `arrivals/${key}`, { ...ordered, expected: on(movedToDay), state: 'delayed' });
  }
}

/** Nucs that are planned for a delivery and not split yet. */
async function planAhead(farm: DemoFarm, send: Send): Promise<void> {
  const siteId = farm.sites[0]?.key;
  for (const { key, name, plannedNucs } of farm.deliveries) {
    if (plannedNucs === 0) continue;
    const nucs = { name, siteId, nucs: plannedNucs, namePrefix: 'Nuc to come' };
    await send('POST', 'plan/batches', { ...nucs, arrivalId: key, by: 'arrival' });
  }
}

/** Channels have appeared by themselves; say where each stands. */
export async function assignChannels(farm: DemoFarm, send: Send): Promise<void> {
  const { items } = await send<ResponseOf<'listChannels'>>('GET', 'channels');
  for (const { sensor, quantity, probe, nucKey, siteKey, place, fromMs, toMs } of farm.assignments) {
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
      ...(toMs === undefined ? {} : { to: new Date(toMs).toISOString() }),
    });
  }
}

async function writeLog(farm: DemoFarm, send: Send): Promise<void> {
  for (const { id, nucKey, startingPoint, method, splitMs } of farm.introductions) {
    const queenId = farm.queens.find((queen) => queen.nucKey === nucKey)?.key;
    const plannedSplit = new Date(splitMs).toISOString();
    const arrivalId = farm.deliveries.find(({ nucKeys }) => nucKeys.includes(nucKey))?.key;
    await send('POST', `nucs/${nucKey}/introductions`, {
      id,
      startingPoint,
      method,
      queenId,
      plannedSplit,
      // Of the time before it nothing is told: the cold of the hours before now is.
      openedAt: plannedSplit,
      arrivalId,
    });
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
