/**
 * A season of a farm in compressed time, through real MQTT and HTTP on the whole server: sensors die, clocks jump, the
 * program is upgraded twice in mid-season, the disk is full once, and once last night's backup is brought back. The
 * sensors are steady made-up ones, so that each alert has one cause; what the troubles of a nuc raise is told by
 * `npm run scenarios`.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { connectAsync, type MqttClient } from 'mqtt';
import type { ResponseOf } from '../../server/contract/index.ts';
import { listBackups } from '../../server/store/backup.ts';
import { databaseName } from '../../server/store/data-folder.ts';
import { restore } from '../../server/store/restore.ts';
import { openStore } from '../../server/store/store.ts';
import { startChild, type Child } from './child.ts';
import { SeasonDevices, type Sent } from './season-devices.ts';

interface SeasonOptions {
  readonly days: number;
  readonly nucs: number;
  /** Minutes between two readings of a sensor, and between two looks of the rules. */
  readonly everyMinutes: number;
  readonly onProgress?: (line: string) => void;
}

interface SeasonRow {
  readonly what: string;
  readonly found: string;
  readonly goal: string;
  readonly ok: boolean;
}

const program = fileURLToPath(new URL('./season-serve.ts', import.meta.url));
const minuteMs = 60_000;
const dayMs = 1440 * minuteMs;
const startMs = Date.UTC(2026, 3, 15, 6);
const diskMb = 900;
/** Resident memory at the end to that after half of the season, when no nuc's window of days grows any more. */
const mostGrowth = 1.15;

/** When in the season things happen, as shares of it. */
const at = {
  firstDeath: 0.3,
  jumps: 0.4,
  restore: 0.5,
  secondUpgrade: 0.6,
  firstUpgrade: 0.2,
  secondDeath: 0.7,
  fullDisk: 0.8,
};

export async function season(options: SeasonOptions): Promise<SeasonRow[]> {
  const disk = mkdtempSync(join(tmpdir(), 'welcomb-season-'));
  const ownDisk =
    spawnSync('mount', ['-t', 'tmpfs', '-o', `size=${String(diskMb)}m`, 'tmpfs', disk]).status === 0;
  try {
    return await new Season(options, disk, ownDisk).run();
  } finally {
    if (ownDisk) spawnSync('umount', ['-l', disk]);
    rmSync(disk, { recursive: true, force: true });
  }
}

class Season {
  readonly #options: SeasonOptions;
  readonly #disk: string;
  readonly #ownDisk: boolean;
  readonly #data: string;
  readonly #devices: SeasonDevices;
  readonly #residentMb: number[] = [];
  readonly #rows: SeasonRow[] = [];
  #nowMs = startMs;
  #server!: Child;
  #http = '';
  #device!: MqttClient;

  constructor(options: SeasonOptions, disk: string, ownDisk: boolean) {
    this.#options = options;
    this.#disk = disk;
    this.#ownDisk = ownDisk;
    this.#data = join(disk, 'data');
    this.#devices = new SeasonDevices(options.nucs);
    mkdirSync(this.#data);
  }

  async run(): Promise<SeasonRow[]> {
    const { days, everyMinutes, onProgress } = this.#options;
    await this.#start();
    await this.#setUp();
    const steps = Math.round((days * dayMs) / (everyMinutes * minuteMs));
    const stepOf = (share: number): number => Math.round(share * steps);
    const happenings = new Map<number, () => Promise<void> | void>([
      [stepOf(at.firstUpgrade), () => this.#upgrade(2, ['hive_visit', 'forecast'])],
      [stepOf(at.firstDeath), () => this.#devices.die(1, this.#nowMs)],
      [stepOf(at.jumps), () => this.#devices.jump(2, 2 * 60 * minuteMs)],
      [stepOf(at.jumps) + 40, () => this.#devices.jump(2, 0)],
      [stepOf(at.jumps) + 41, () => this.#devices.jump(3, -2 * dayMs + 7 * minuteMs)],
      [stepOf(at.jumps) + 80, () => this.#devices.jump(3, 0)],
      [stepOf(at.restore), () => this.#restore()],
      [stepOf(at.secondUpgrade), () => this.#upgrade(3, ['hive_visit'])],
      [stepOf(at.secondDeath), () => this.#devices.die(4, this.#nowMs)],
      [stepOf(at.fullDisk), () => this.#fillDisk()],
    ]);
    const stepsADay = Math.round(1440 / everyMinutes);
    for (let step = 1; step <= steps; step += 1) {
      this.#nowMs = startMs + step * everyMinutes * minuteMs;
      // The server's clock goes first: what a device sends is then not ahead of it.
      const resident = await this.#to(this.#nowMs);
      await happenings.get(step)?.();
      await this.#publish(this.#devices.readingsAt(this.#nowMs));
      if (step === 2) await this.#assign();
      if (step % stepsADay === 0) {
        this.#residentMb.push(resident);
        onProgress?.(`day ${String(step / stepsADay)}: ${resident.toFixed(0)} MB resident`);
      }
    }
    await this.#to(this.#nowMs + minuteMs);
    this.#tellAlerts(await this.#get<ResponseOf<'listAlerts'>>('/alerts?state=all&limit=500'));
    await this.#stop();
    this.#tellMemory();
    this.#tellReadings();
    this.#tellBackups();
    return this.#rows;
  }

  #row(what: string, found: string, goal: string, ok: boolean): void {
    this.#rows.push({ what, found, goal, ok });
  }

  async #start(): Promise<void> {
    this.#server = startChild(program, [this.#data, String(this.#nowMs)]);
    const [http = '', mqtt = ''] = (await this.#server.answer('ready')).split(' ');
    this.#http = http;
    this.#device = await connectAsync(mqtt);
  }

  async #stop(): Promise<void> {
    await this.#device.endAsync();
    await this.#server.kill('SIGTERM');
  }

  /** Resident memory, MB. */
  async #to(ms: number): Promise<number> {
    this.#server.ask(`to ${String(ms)}`);
    const [, bytes] = (await this.#server.answer('at')).split(' ');
    return Number(bytes) / 1e6;
  }

  async #publish(readings: readonly Sent[]): Promise<void> {
    await Promise.all(
      readings.map(async (sent) => {
        await this.#device.publishAsync(sent.topic, sent.payload, { qos: 1 });
        this.#devices.acknowledged(sent, this.#nowMs);
      }),
    );
  }

  async #ask(method: string, path: string, body?: unknown): Promise<unknown> {
    const response = await fetch(`${this.#http}/api/v1${path}`, {
      method,
      headers: { 'content-type': 'application/json', origin: new URL(this.#http).origin },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const text = await response.text();
    if (!response.ok) throw new Error(`${method} ${path}: ${String(response.status)} ${text}`);
    return text === '' ? undefined : JSON.parse(text);
  }

  async #get<T>(path: string): Promise<T> {
    return (await this.#ask('GET', path)) as T;
  }

  async #setUp(): Promise<void> {
    const place = { timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 9 };
    await this.#ask('POST', '/sites', { id: 'field', name: 'Lower field', ...place });
    for (const { nuc, name } of this.#devices.nucs)
      await this.#ask('POST', '/hives', { id: nuc, name, siteId: 'field', role: 'nuc' });
  }

  async #assign(): Promise<void> {
    const { items } = await this.#get<ResponseOf<'listChannels'>>('/channels');
    for (const { id, sensor, quantity, probe } of items) {
      const place = quantity === 'weight' ? 'scale' : quantity === 'temperature' ? probe : 'battery';
      const hiveId = this.#devices.nucOf(sensor);
      await this.#ask('POST', '/assignments', {
        channelId: id,
        hiveId,
        place,
        from: new Date(startMs).toISOString(),
      });
    }
  }

  /** The database as the program before left it, and this program on it. */
  async #upgrade(schema: number, without: readonly string[]): Promise<void> {
    await this.#stop();
    const db = new Database(join(this.#data, databaseName));
    for (const table of without) db.exec(`DROP TABLE ${table}`);
    db.pragma(`user_version = ${String(schema)}`);
    db.close();
    await this.#start();
    const { ready } = await this.#get<{ ready: boolean }>('/status');
    this.#row(
      `started on a database of schema ${String(schema)}`,
      ready ? 'ready' : 'not ready',
      'ready',
      ready,
    );
  }

  async #restore(): Promise<void> {
    await this.#stop();
    const file = join(this.#data, databaseName);
    const [newest = ''] = listBackups(join(this.#data, 'backups'));
    const madeMs = this.#devices.restoreTo(newestReadingMs(newest));
    restore(newest, file);
    await this.#start();
    const ageH = (this.#nowMs - madeMs) / (60 * minuteMs);
    this.#row('age of the backup that was brought back, h', ageH.toFixed(1), '≤ 25', ageH <= 25);
  }

  /** Nothing is acknowledged while it is full, and all of it once there is room. */
  async #fillDisk(): Promise<void> {
    if (!this.#ownDisk) {
      this.#row('a full disk', 'not tried: this user may not mount one', 'tried', true);
      return;
    }
    const ballast = join(this.#disk, 'ballast');
    fillWith(ballast);
    const before = this.#devices.count;
    // More than what the last pages of the file still have room for.
    const waiting = Promise.all(
      Array.from({ length: 60 }, (_, i) =>
        this.#publish(this.#devices.readingsAt(this.#nowMs - (i + 1) * 1000)),
      ),
    );
    await this.#to(this.#nowMs + minuteMs);
    await new Promise((resolve) => setTimeout(resolve, 2000));
    await this.#to(this.#nowMs + 2 * minuteMs);
    const stalled = this.#devices.count;
    rmSync(ballast);
    await waiting;
    const after = this.#devices.count;
    const found = `${String(stalled - before)} while full, ${String(after - before)} after`;
    this.#row('readings acknowledged around a full disk', found, 'waits, then all', stalled < after);
  }

  #tellAlerts({ items }: ResponseOf<'listAlerts'>): void {
    const silent = items.filter(({ ruleId }) => ruleId === 'sensor-silent');
    for (const { sensor, diedMs } of this.#devices.dead) {
      const told = silent.filter(({ subject }) => JSON.stringify(subject).includes(sensor));
      const delayH = (Date.parse(told[0]?.raisedAt ?? '') - diedMs) / (60 * minuteMs);
      const found = told.length === 0 ? 'not told' : `${String(told.length)} ×, after ${delayH.toFixed(1)} h`;
      // Eight of its intervals, and the time that a finding holds before it is told.
      const withinH = (8 * this.#options.everyMinutes) / 60 + 1.5;
      this.#row(
        `${sensor} died`,
        found,
        `1 ×, within ${withinH.toFixed(1)} h`,
        told.length === 1 && delayH <= withinH,
      );
    }
    const others = silent.length - this.#devices.dead.length;
    this.#row('silent sensors told that were not', String(others), '0', others === 0);
    const disk = items.filter(({ ruleId }) => ruleId === 'disk-filling').length;
    if (this.#ownDisk) this.#row('alerts of the full disk', String(disk), '1', disk === 1);
  }

  #tellMemory(): void {
    const half = Math.floor(this.#residentMb.length / 2);
    const middle = Math.max(...this.#residentMb.slice(half, half + Math.ceil(half / 4)));
    const last = Math.max(...this.#residentMb.slice(-Math.ceil(half / 4)));
    const found = `${middle.toFixed(0)} → ${last.toFixed(0)} MB`;
    this.#row(
      'memory after half of the season and at its end',
      found,
      `× ≤ ${String(mostGrowth)}`,
      last <= middle * mostGrowth,
    );
  }

  #tellReadings(): void {
    const { lost, wrong } = this.#devices.check(join(this.#data, databaseName));
    const { count, givenUp } = this.#devices;
    this.#row('readings acknowledged', String(count), '> 0', count > 0);
    this.#row(
      'of these after the backup that was brought back',
      String(givenUp),
      'given up by whoever restores',
      true,
    );
    this.#row('acknowledged and lost', String(lost), '0', lost === 0);
    this.#row('stored with another value', String(wrong), '0', wrong === 0);
  }

  #tellBackups(): void {
    const files = listBackups(join(this.#data, 'backups'));
    let good = 0;
    for (const backup of files) {
      const folder = mkdtempSync(join(tmpdir(), 'welcomb-restored-'));
      try {
        restore(backup, join(folder, databaseName));
        // The very first is made before the first reading.
        if (newestReadingMs(join(folder, databaseName)) > startMs || backup === files.at(-1)) good += 1;
      } finally {
        rmSync(folder, { recursive: true, force: true });
      }
    }
    const ok = files.length > 0 && good === files.length;
    this.#row('backups that can be brought back', `${String(good)} of ${String(files.length)}`, 'all', ok);
  }
}

function fillWith(file: string): void {
  const { bavail, bsize } = statfsSync(dirname(file));
  try {
    writeFileSync(file, Buffer.alloc(bavail * bsize));
  } catch (error) {
    // The server wrote meanwhile: then this took what was left.
    if ((error as NodeJS.ErrnoException).code !== 'ENOSPC') throw error;
  }
}

function newestReadingMs(file: string): number {
  const store = openStore({ file, readonly: true });
  try {
    return Math.max(...store.channels.list().map(({ latest }) => latest?.atMs ?? 0));
  } finally {
    store.close();
  }
}
