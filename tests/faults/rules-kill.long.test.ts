/** A server that is killed with -9 in the middle of a hold: the same outcome as without, and no holding while it was down. */
import { fork, type ChildProcess } from 'node:child_process';
import { join } from 'node:path';
import { afterEach, describe, expect, it } from 'vitest';
import type { IncomingReading } from '../../server/store/port.ts';
import { openStore } from '../../server/store/store.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import type { Minute, Standing } from './rules-support-child.ts';

const minuteMs = 60_000;
const startMs = Date.UTC(2026, 4, 12, 6);
const program = join(import.meta.dirname, 'rules-support-child.ts');
const holdMin = 120;

let child: ChildProcess | undefined;
let folder = '';
afterEach(() => {
  child?.kill('SIGKILL');
  dropFolder(folder);
});

function newFarm(): void {
  folder = newFolder();
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => startMs });
  store.places.putSite({ id: 'hill', name: 'Hill', latDeg: 50, lonDeg: 10, timeZone: 'Europe/Berlin' });
  store.places.putHive({
    id: 'nuc-1',
    siteId: 'hill',
    role: 'nuc',
    name: 'Nuc 1',
    box: { kind: 'wood' },
    createdAtMs: startMs,
  });
  store.ingest.commit({ readings: [battery(startMs - 10 * minuteMs, 60)], quarantined: [], lastKnown: [] });
  const channelId = store.channels.list()[0]?.id ?? 0;
  store.places.assign({ channelId, owner: { hiveId: 'nuc-1' }, position: 'battery', fromMs: 0, toMs: null });
  store.close();
}

const battery = (atMs: number, value: number): IncomingReading => ({
  sensor: 'box-1',
  quantity: 'battery',
  probe: '',
  unit: '%EL',
  value,
  observedAtMs: atMs,
  receivedAtMs: atMs,
});

async function start(nowMs: number): Promise<void> {
  child = fork(program, [join(folder, 'welcomb.db'), String(nowMs)], { execArgv: ['--import', 'tsx'] });
  await new Promise((spawned) => child?.once('spawn', spawned));
}

async function kill(): Promise<void> {
  const gone = new Promise((exit) => child?.once('exit', exit));
  child?.kill('SIGKILL');
  await gone;
}

async function minute(atMin: number): Promise<Standing> {
  const nowMs = startMs + atMin * minuteMs;
  const answer = new Promise<Standing>((resolve, reject) => {
    const ended = (): void => {
      reject(new Error('the farm ended'));
    };
    child?.once('exit', ended);
    child?.once('message', (standing) => {
      child?.off('exit', ended);
      resolve(standing as Standing);
    });
  });
  const said: Minute = { nowMs, readings: atMin % 10 === 0 ? [battery(nowMs, 9)] : [] };
  child?.send(said);
  return answer;
}

/** Minute at which the low battery was told; the process is killed after `killAtMin` and is back at `backAtMin`. */
async function toldAt(
  killAtMin: number,
  backAtMin: number,
): Promise<{ atMin: number; open: readonly string[] }> {
  newFarm();
  await start(startMs);
  for (let atMin = 0; atMin < 900; atMin += 1) {
    const { open, holding } = await minute(atMin);
    if (open.some((one) => one.startsWith('battery-low'))) return { atMin, open };
    if (atMin !== killAtMin) continue;
    expect(holding).toContain('battery-low');
    await kill();
    await start(startMs + backAtMin * minuteMs);
    atMin = backAtMin - 1;
  }
  throw new Error('it was never told');
}

describe('a hold that a kill -9 falls into', () => {
  const since = `battery-low since ${String(startMs)}`;

  it('ends at its minute where the server is back at once', async () => {
    const untouched = await toldAt(-1, -1);
    expect(untouched).toMatchObject({ atMin: holdMin, open: [since] });
    expect(await toldAt(60, 61)).toEqual(untouched);
  }, 120_000);

  it('does not count the time in which nobody looked', async () => {
    const downMin = 300;
    const late = await toldAt(60, 60 + downMin);
    // The minute in which it was killed was still looked at.
    expect(late.atMin).toBeGreaterThanOrEqual(holdMin + downMin - 1);
    expect(late.atMin).toBeLessThanOrEqual(holdMin + downMin + 1);
    expect(late.open).toContain(since);
  }, 120_000);
});
