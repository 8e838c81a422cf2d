/**
 * A season of a farm in compressed time, through real MQTT and HTTP on the whole server: simulated nucs are split, their
 * queens hung and let out, written down by HTTP; some abscond, chill, lose a probe or a battery. Settled hives beside
 * them have steady made-up sensors that die and whose clocks jump, so that each reading's instant is known. The program
 * is upgraded twice in mid-season, the disk is full once, and once last night's backup is brought back.
 */
import { spawnSync } from 'node:child_process';
import { mkdirSync, mkdtempSync, rmSync, statfsSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join } from 'node:path';
import { fileURLToPath } from 'node:url';
import Database from 'better-sqlite3';
import { connectAsync, type MqttClient } from 'mqtt';
import type { ResponseOf } from '../../server/contract/index.ts';
import { listBackups } from '../../server/store/backup/backup.ts';
import { databaseName } from '../../server/store/file/data-folder.ts';
import { restore } from '../../server/store/backup/restore.ts';
import { Acknowledged, type Sent } from './acknowledged.ts';
import { startChild, type Child } from './child.ts';
import { SeasonAlerts } from './season-alerts.ts';
import { SeasonDevices } from './season-devices.ts';
import { SeasonKeeper } from './season-keeper.ts';
import { SeasonNucs } from './season-nucs.ts';
import {
  newestReadingMs,
  tellBackups,
  tellMemory,
  tellReadings,
  type DayOfMemory,
  type SeasonRow,
} from './season-verdicts.ts';
import { takeBackTo } from './undone-migrations.ts';

interface SeasonOptions {
  readonly days: number;
  /** At a time, with the five settled ones. */
  readonly nucs: number;
  /** Minutes between two readings of a sensor. */
  readonly everyMinutes: number;
  /** Of the weather and the nucs. */
  readonly seed: number;
  readonly onProgress?: (line: string) => void;
}

const program = fileURLToPath(new URL('./season-serve.ts', import.meta.url));
const minuteMs = 60_000;
const dayMs = 1440 * minuteMs;
const startMs = Date.UTC(2026, 3, 15, 6);
const diskMb = 900;
/** Second by second into the past; so long without an acknowledgement, and none is to be expected. */
const [mostBatches, stallMs] = [1200, 2000];
/** Between two looks of the rules. */
const lookMs = 30 * minuteMs;
/** Hives with made-up sensors among the nucs. */
const settled = 5;
/** A reading is late ten minutes after it was taken: the clock goes in steps below that. */
const stepMs = 7.5 * minuteMs;

/** When in the season things happen, as shares of it: its second half goes on undisturbed, so that what grows is seen. */
const at = {
  firstUpgrade: 0.1,
  firstDeath: 0.15,
  jumps: 0.2,
  restore: 0.25,
  secondUpgrade: 0.3,
  secondDeath: 0.35,
  fullDisk: 0.4,
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
  readonly #devices = new SeasonDevices(settled);
  readonly #nucs: SeasonNucs;
  readonly #keeper = new SeasonKeeper();
  readonly #acknowledged = new Acknowledged();
  readonly #alerts = new SeasonAlerts();
  readonly #memory: DayOfMemory[] = [];
  readonly #rows: SeasonRow[] = [];
  #nowMs = startMs;
  #server!: Child;
  #device!: MqttClient;

  constructor(options: SeasonOptions, disk: string, ownDisk: boolean) {
    const { days, nucs, everyMinutes, seed } = options;
    this.#options = options;
    this.#disk = disk;
    this.#ownDisk = ownDisk;
    this.#data = join(disk, 'data');
    this.#nucs = new SeasonNucs(this.#keeper, { startMs, days, slots: nucs - settled, everyMinutes, seed });
    mkdirSync(this.#data);
  }

  async run(): Promise<SeasonRow[]> {
    const { days, everyMinutes, onProgress } = this.#options;
    await this.#start();
    await this.#setUp();
    const looks = Math.round((days * dayMs) / lookMs);
    const lookOf = (share: number): number => Math.round(share * looks);
    const happenings = new Map<number, () => Promise<void> | void>([
      [lookOf(at.firstUpgrade), () => this.#upgrade(2)],
      [lookOf(at.firstDeath), () => this.#devices.die(1, this.#nowMs)],
      [lookOf(at.jumps), () => this.#devices.jump(2, 2 * 60 * minuteMs)],
      [lookOf(at.jumps) + 40, () => this.#devices.jump(2, 0)],
      [lookOf(at.jumps) + 41, () => this.#devices.jump(3, -2 * dayMs + 7 * minuteMs)],
      [lookOf(at.jumps) + 80, () => this.#devices.jump(3, 0)],
      [lookOf(at.restore), () => this.#restore()],
      [lookOf(at.secondUpgrade), () => this.#upgrade(3)],
      [lookOf(at.secondDeath), () => this.#devices.die(4, this.#nowMs)],
      [lookOf(at.fullDisk), () => this.#fillDisk()],
    ]);
    const beganMs = Date.now();
    for (let look = 1; look <= looks; look += 1) {
      await this.#sendUpTo(startMs + look * lookMs, everyMinutes);
      const memory = await this.#to(this.#nowMs);
      await happenings.get(look)?.();
      if (look === 2) await this.#assign();
      await this.#nucs.visit(this.#nowMs);
      this.#remember(look, memory);
      if ((look * lookMs) % dayMs === 0) {
        await this.#readAlerts();
        const day = (look * lookMs) / dayMs;
        const minutes = ((Date.now() - beganMs) / 60_000).toFixed(1);
        const { residentMb, leastHeapMb } = this.#memory.at(-1) ?? { residentMb: 0, leastHeapMb: 0 };
        onProgress?.(
          `day ${String(day)} after ${minutes} min: ${residentMb.toFixed(0)} MB, heap ${leastHeapMb.toFixed(0)} MB`,
        );
      }
    }
    await this.#to(this.#nowMs + minuteMs);
    await this.#readAlerts();
    await this.#stop();
    return [...this.#rows, ...this.#verdicts()];
  }

  #verdicts(): SeasonRow[] {
    const { onProgress } = this.#options;
    return [
      ...this.#alerts.tellNucs(this.#nucs.done, onProgress),
      ...this.#alerts.tellSettled(this.#devices, this.#ownDisk, onProgress),
      ...tellMemory(this.#memory),
      ...tellReadings(join(this.#data, databaseName), this.#acknowledged, this.#keeper.logged),
      ...tellBackups(join(this.#data, 'backups'), startMs, this.#acknowledged, this.#keeper.logged),
    ];
  }

  #row(what: string, found: string, goal: string, ok: boolean): void {
    this.#rows.push({ what, found, goal, ok });
  }

  async #start(): Promise<void> {
    this.#server = startChild(program, [this.#data, String(this.#nowMs)], ['--expose-gc']);
    const [http = '', mqtt = ''] = (await this.#server.answer('ready')).split(' ');
    this.#keeper.at(http);
    this.#device = await connectAsync(mqtt);
  }

  async #stop(): Promise<void> {
    await this.#device.endAsync();
    await this.#server.kill('SIGTERM');
  }

  /** The devices send as time goes on; the server's clock goes first, so that none of them is ahead of it. */
  async #sendUpTo(untilMs: number, everyMinutes: number): Promise<void> {
    while (this.#nowMs < untilMs) {
      this.#nowMs = Math.min(this.#nowMs + stepMs, untilMs);
      this.#server.ask(`clock ${String(this.#nowMs)}`);
      await this.#server.answer('set');
      const steady =
        (this.#nowMs - startMs) % (everyMinutes * minuteMs) === 0
          ? this.#devices.readingsAt(this.#nowMs)
          : [];
      await this.#publish([...steady, ...this.#nucs.readingsUpTo(this.#nowMs)]);
    }
  }

  async #to(ms: number): Promise<{ residentMb: number; heapMb: number }> {
    this.#server.ask(`to ${String(ms)}`);
    const [, resident, heap] = (await this.#server.answer('at')).split(' ');
    return { residentMb: Number(resident) / 1e6, heapMb: Number(heap) / 1e6 };
  }

  /** The heap at its least within a day is what is kept: what lies above is waiting to be collected. */
  #remember(look: number, { residentMb, heapMb }: { residentMb: number; heapMb: number }): void {
    const day = Math.floor(((look - 1) * lookMs) / dayMs);
    const before = this.#memory[day];
    this.#memory[day] = { residentMb, leastHeapMb: Math.min(before?.leastHeapMb ?? Infinity, heapMb) };
  }

  async #publish(readings: readonly Sent[]): Promise<void> {
    await Promise.all(
      readings.map(async (sent) => {
        await this.#device.publishAsync(sent.topic, sent.payload, { qos: 1 });
        this.#acknowledged.take(sent, this.#nowMs);
      }),
    );
  }

  async #readAlerts(): Promise<void> {
    const { items } = await this.#keeper.get<ResponseOf<'listAlerts'>>('/alerts?state=all&limit=1000');
    this.#alerts.read(items);
  }

  async #setUp(): Promise<void> {
    const place = { timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 9 };
    await this.#keeper.do(this.#nowMs, 'POST', '/sites', { id: 'yard', name: 'Yard', ...place });
    for (const { nuc, name } of this.#devices.nucs) {
      const hive = { id: nuc, name, siteId: 'yard', role: 'nuc' };
      await this.#keeper.do(this.#nowMs, 'POST', '/hives', hive);
    }
    await this.#nucs.setUp(this.#nowMs);
  }

  async #assign(): Promise<void> {
    const { items } = await this.#keeper.get<ResponseOf<'listChannels'>>('/channels');
    for (const { id, sensor, quantity, probe } of items) {
      const hiveId = this.#devices.nucOf(sensor);
      if (hiveId === undefined) continue;
      const place = quantity === 'weight' ? 'scale' : quantity === 'temperature' ? probe : 'battery';
      const from = new Date(startMs).toISOString();
      await this.#keeper.do(this.#nowMs, 'POST', '/assignments', { channelId: id, hiveId, place, from });
    }
  }

  /** The database as the program before left it, and this program on it. */
  async #upgrade(schema: number): Promise<void> {
    await this.#stop();
    const db = new Database(join(this.#data, databaseName));
    takeBackTo(db, schema);
    db.close();
    await this.#start();
    const { ready } = await this.#keeper.get<{ ready: boolean }>('/status');
    this.#row(
      `started on a database of schema ${String(schema)}`,
      ready ? 'ready' : 'not ready',
      'ready',
      ready,
    );
  }

  async #restore(): Promise<void> {
    await this.#readAlerts();
    await this.#stop();
    const file = join(this.#data, databaseName);
    const [newest = ''] = listBackups(join(this.#data, 'backups'));
    const madeMs = newestReadingMs(newest);
    this.#acknowledged.restoreTo(madeMs);
    restore(newest, file);
    await this.#start();
    await this.#keeper.doAgainSince(madeMs);
    this.#alerts.restored(madeMs, this.#nowMs);
    const ageH = (this.#nowMs - madeMs) / (60 * minuteMs);
    this.#row('age of the backup that was brought back, h', ageH.toFixed(1), '≤ 25', ageH <= 25);
  }

  /** What has no room waits, and comes once there is some; for a while a file has room of its own for readings. */
  async #fillDisk(): Promise<void> {
    if (!this.#ownDisk) {
      this.#row('a full disk', 'not tried: this user may not mount one', 'tried', true);
      return;
    }
    const ballast = join(this.#disk, 'ballast');
    fillWith(ballast);
    const before = this.#acknowledged.count;
    // More and more, until what the file and its log still have room for is used up, or for a minute.
    const waiting: Promise<void>[] = [];
    let sent = 0;
    for (let batch = 1, stood = -1; batch <= mostBatches && stood < this.#acknowledged.count; batch += 40) {
      stood = this.#acknowledged.count;
      for (let i = batch; i < batch + 40; i += 1) {
        const readings = this.#devices.readingsAt(this.#nowMs - i * 1000);
        sent += readings.length;
        waiting.push(this.#publish(readings));
      }
      await new Promise((resolve) => setTimeout(resolve, stallMs));
    }
    await this.#to(this.#nowMs + minuteMs);
    await this.#to(this.#nowMs + 2 * minuteMs);
    const whileFull = this.#acknowledged.count - before;
    rmSync(ballast);
    await Promise.all(waiting);
    const inAll = this.#acknowledged.count - before;
    const found = `${String(whileFull)} while full, ${String(inAll)} of ${String(sent)} in the end`;
    this.#row('readings acknowledged around a full disk', found, 'all in the end', inAll === sent);
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
