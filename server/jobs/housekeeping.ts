/** Maintenance: sealing days, backups, retention, heartbeat. */
import { setImmediate } from 'node:timers/promises';
import { backupFolder, backupsKept, farmSetting } from '../farm/settings.ts';
import type { Store } from '../store/store.ts';
import type { Rhythm } from './due.ts';
import type { Job } from './runner.ts';
import { dayMs } from '../durations.ts';

export interface HousekeepingDeps {
  readonly store: Store;
  /** IANA zone in which "at night" is meant. */
  readonly timeZone: () => string;
  /** The call to the monitoring service outside. */
  readonly beat: () => Promise<void>;
  readonly log: { info(details: object, sentence: string): void };
}

/** Time enough to find out what a new sensor is; nobody who keeps one unassigned for longer wants its past. */
const unassignedKeepMs = 60 * dayMs;
/** A name that was made up, mistyped or tried out, and is silent since. */
const silentUnassignedKeepMs = 14 * dayMs;
/** Alerts and deliveries that are over are kept for two seasons. */
const overKeepMs = 730 * dayMs;

/** Setting: from one night to the next the past moves on by this much at most. */
const longestNightMs = 2 * dayMs;
const reckonedMark = 'retention reckons by';

/**
 * Now, as far as deleting goes: a clock that leapt ahead by years, as one without a battery may at a start, makes no
 * reading old. What was off for a winter catches up night by night.
 */
function reckonedNow({ marks }: Store, nowMs: number): number {
  const lastNight = marks.get(reckonedMark) ?? marks.get('job retention');
  const reckoned = lastNight === undefined ? nowMs : Math.min(nowMs, lastNight + longestNightMs);
  marks.set(reckonedMark, reckoned);
  return reckoned;
}

export function housekeeping({ store, timeZone, beat, log }: HousekeepingDeps): Job[] {
  const nightly = (at: string) => (): Rhythm => ({ kind: 'daily', at, timeZone: timeZone() });
  return [
    {
      name: 'seal days',
      rhythm: () => ({ kind: 'every', minutes: 60 }),
      isShort: true,
      // A gateway that hands over a season at once must not fill the memory until the hour is over.
      urgent: () => store.readings.crowded(),
      async run() {
        // A history that was filled in has many days: readings that come meanwhile are not kept waiting.
        while (store.readings.seal().more) await setImmediate();
        store.compact();
      },
    },
    { name: 'heartbeat', rhythm: () => ({ kind: 'every', minutes: 5 }), isShort: true, run: beat },
    {
      name: 'backup',
      rhythm: nightly('02:40'),
      blocked: () => backupFolder(store) === null,
      async run() {
        const folder = backupFolder(store);
        if (folder === null) return;
        const made = await store.backup(folder, { keep: backupsKept(store.settings) });
        log.info({ file: made.file, bytes: made.bytes }, 'The nightly backup was made and checked.');
      },
    },
    {
      name: 'retention',
      rhythm: nightly('03:20'),
      blocked: () => farmSetting(store.settings, 'rawKeepDays') === null,
      run(nowMs) {
        const keepDays = farmSetting(store.settings, 'rawKeepDays');
        if (keepDays === null) return;
        const reckonedMs = reckonedNow(store, nowMs);
        store.expire({
          rawBeforeMs: reckonedMs - keepDays * dayMs,
          unassignedBeforeMs: reckonedMs - unassignedKeepMs,
          strayBeforeMs: reckonedMs - silentUnassignedKeepMs,
        });
        store.alerts.prune(reckonedMs - overKeepMs);
        store.deliveries.prune(reckonedMs - overKeepMs);
      },
    },
  ];
}
