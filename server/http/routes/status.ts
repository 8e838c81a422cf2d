/** The state of the server, and backing up by one button. */
import { statSync } from 'node:fs';
import { basename } from 'node:path';
import { StoreUnavailable } from '../../store/errors.ts';
import type { Store } from '../../store/store.ts';
import type { Status } from '../../contract/server.ts';
import type { AppDeps } from '../deps.ts';
import { backupsThere } from '../../farm/backups-there.ts';
import { backupFolder, backupsKept, settingFaults, notificationChannels } from '../../farm/settings.ts';
import { implement } from '../operation.ts';
import { UserError } from '../../user-error.ts';
import { iso, isoOrNull } from '../../farm/wire.ts';

/** Only copies that passed their check have such a name, so every one found is verified. */
export function lastBackup(store: Store): Status['lastBackup'] {
  try {
    const [newest] = backupsThere(store).files;
    return newest === undefined
      ? null
      : { at: iso(statSync(newest).mtimeMs), file: basename(newest), verified: true };
  } catch {
    // Deleted since it was listed.
    return null;
  }
}

function storeStatus(store: Store): Status['store'] {
  try {
    const found = store.diagnostics();
    return {
      ok: true,
      detail: 'The database answers.',
      bytes: found.fileBytes + found.logBytes,
      writtenTodayBytes: found.writtenTodayBytes ?? 0,
      readings: found.readings,
      bytesPerYear: found.bytesPerYear,
      freeBytes: found.freeBytes,
    };
  } catch (error) {
    if (!(error instanceof StoreUnavailable)) throw error;
    return {
      ok: false,
      detail: error.message,
      bytes: 0,
      writtenTodayBytes: 0,
      readings: 0,
      bytesPerYear: null,
      freeBytes: null,
    };
  }
}

function ingestStatus({ ingest, settings }: AppDeps): Pick<Status, 'broker' | 'ingest'> {
  const { kind, connected, detail, counters, store } = ingest.status();
  const { host, port } = ingest.address;
  const { received, stored, duplicates, conflicts, quarantined } = counters;
  return {
    broker: {
      kind,
      connected,
      address: settings.broker ?? `${host.includes(':') ? `[${host}]` : host}:${String(port)}`,
      detail: store.state === 'ok' ? detail : `${detail} ${store.detail}`,
    },
    ingest: { received, stored, duplicates, conflicts, quarantined },
  };
}

/** With room: 500 nucs with three years take 300 MB. */
const usualMemoryBytes = 600_000_000;

function newestReadingMs(store: Store): number | null {
  return store.channels.list().reduce<number | null>((newest, { latest }) => {
    return latest === null ? newest : Math.max(newest ?? 0, latest.atMs);
  }, null);
}

function heartbeatStatus({ heartbeat }: AppDeps): Pick<Status, 'heartbeat'> {
  const now = heartbeat();
  return { heartbeat: now && { sentAt: isoOrNull(now.sentAtMs), problem: now.problem } };
}

const weekMs = 7 * 86_400_000;
const mostGivenUp = 20;

/**
 * Messages that failed and are tried again, then those that were given up in the last week, or refused for some of their
 * recipients, by the name of the channel.
 */
function untold(store: Store, nowMs: number): Status['untold'] {
  const names = new Map(notificationChannels(store.settings).map(({ id, name }) => [id, name]));
  const waiting = store.deliveries
    .waiting()
    .filter(({ attempts, lastError }) => attempts > 0 && lastError !== null);
  const givenUp = store.deliveries
    .recent(1000)
    .filter(({ state, lastError }) => state === 'given-up' || (state === 'sent' && lastError !== null))
    .filter(({ kind, createdAtMs }) => kind !== 'test' && createdAtMs > nowMs - weekMs)
    .slice(0, mostGivenUp);
  return [...waiting, ...givenUp].map(({ recipientId, createdAtMs, attempts, lastError, state, items }) => ({
    to: names.get(recipientId) ?? 'a notification channel that was removed',
    since: iso(createdAtMs),
    tries: attempts,
    problem: lastError ?? '',
    what: items.map(({ subject, title }) => `${subject.name}: ${title}`).join('; '),
    ...(state !== 'waiting' && { gaveUp: true }),
  }));
}

function readableBackupFolder(store: Store): string {
  const folder = backupFolder(store);
  if (folder !== null) return folder;
  throw new UserError(
    'conflict',
    'The stored folder for backups can’t be read, so no backup is made: put the setting right first.',
  );
}

export function statusRoutes(deps: AppDeps) {
  const { store, notReady, version, startedAtMs, lastEvaluation, forecasts } = deps;
  return {
    ...implement('status', ({ nowMs }) => {
      const why = notReady();
      const evaluated = lastEvaluation();
      return {
        ready: why === null,
        ...(why === null ? {} : { why }),
        version,
        startedAt: iso(startedAtMs),
        ...ingestStatus(deps),
        store: storeStatus(store),
        newestReadingAt: isoOrNull(newestReadingMs(store)),
        ...heartbeatStatus(deps),
        memoryBytes: process.memoryUsage.rss(),
        memoryHigh: process.memoryUsage.rss() > usualMemoryBytes,
        lastBackup: lastBackup(store),
        lastEvaluation: evaluated && { at: iso(evaluated.atMs), ms: evaluated.ms },
        forecasts: forecasts().map(({ site, host, fetchedAtMs, problem }) => ({
          site,
          host,
          at: isoOrNull(fetchedAtMs),
          problem,
        })),
        unreadable: store.unreadable.list(),
        untold: untold(store, nowMs),
        settingFaults: settingFaults(store.settings),
      };
    }),
    ...implement('backupNow', async () => {
      const made = await store.backup(readableBackupFolder(store), { keep: backupsKept(store.settings) });
      return { file: made.file, bytes: made.bytes, verified: made.verified, at: iso(made.atMs) };
    }),
  };
}
