/** The store: opens the database and hands out its parts. The only room that knows SQL. */
import { alerts, type Alerts } from './alerts.ts';
import { announcements, type Announcements } from './channels/announcements.ts';
import { backups, type BackupMade, type BackupOptions } from './backup/backup.ts';
import { ChannelIds } from './channel-ids.ts';
import { channels, type Channels } from './channels/channels.ts';
import { makeContext, type Context, type StoreLog } from './context.ts';
import { deliveries, type Deliveries } from './deliveries.ts';
import { devices, type Devices } from './channels/devices.ts';
import { diagnostics, type Diagnostics } from './diagnostics.ts';
import { StoreRefused, StoreUnavailable } from './errors.ts';
import { channelForgetter } from './channels/forget-channels.ts';
import { forecasts, type Forecasts } from './forecasts.ts';
import { hiveVisits, type HiveVisits } from './field-log/hive-visits.ts';
import { ingest, type Ingest } from './channels/ingest.ts';
import { introductions, type Introductions } from './field-log/introductions.ts';
import { mappings, type Mappings } from './channels/mappings.ts';
import { marks, type Marks } from './marks.ts';
import type { MigrationReport } from './migrate.ts';
import { openDatabase } from './file/open-database.ts';
import { people, type People } from './people.ts';
import { assignments, type Assignments } from './places/assignments.ts';
import { hives, type Hives } from './places/hives.ts';
import { sites, type Sites } from './places/sites.ts';
import { quarantine, type Quarantine } from './channels/quarantine.ts';
import { queens, type Queens } from './field-log/queens.ts';
import { ReadingLayers } from './readings/layers.ts';
import { readings, type Readings } from './readings/readings.ts';
import { expire, type Expired, type ExpireOptions } from './readings/retention.ts';
import { RollupDays } from './readings/rollup-days.ts';
import { Sealer } from './readings/seal.ts';
import { settings, type Settings } from './settings.ts';
import { plannedRemover } from './field-log/undo-planned.ts';
import type { UnreadableRows } from './unreadable.ts';

export interface StoreOptions {
  readonly file: string;
  /** For a look beside the running server; nothing can be written. */
  readonly readonly?: boolean;
  readonly nowMs?: () => number;
  readonly logger?: StoreLog;
}

export interface Store {
  readonly file: string;
  readonly migrated: MigrationReport;
  readonly ingest: Ingest;
  readonly announcements: Announcements;
  readonly channels: Channels;
  readonly readings: Readings;
  readonly places: Sites & Hives & Assignments;
  readonly introductions: Introductions;
  readonly queens: Queens;
  readonly alerts: Alerts;
  readonly settings: Settings;
  readonly marks: Marks;
  readonly quarantine: Quarantine;
  readonly mappings: Mappings;
  readonly people: People;
  readonly devices: Devices;
  readonly deliveries: Deliveries;
  readonly forecasts: Forecasts;
  readonly hiveVisits: HiveVisits;
  /** Rows that were met and could not be read. */
  readonly unreadable: Pick<UnreadableRows, 'list' | 'note'>;
  diagnostics(): Diagnostics;
  /** A checked copy in `folder`. */
  backup(folder: string, options?: BackupOptions): Promise<BackupMade>;
  /** Drops readings by age; see `ExpireOptions`. */
  expire(options: ExpireOptions): Expired;
  /** Removes channels and all that they sent; see `channelForgetter`. */
  forgetChannels(ids: readonly number[], evenAssigned?: boolean): number;
  /** Removes nucs that were only planned; see `plannedRemover`. */
  undoPlanned(nucIds: readonly string[]): number;
  /** Gives pages that deletions freed back to the disk, a few at a time. */
  compact(): void;
  close(): void;
}

/**
 * Opens `file`, made anew where there is none. Throws `StoreRefused` for a database that is foreign, damaged or
 * newer (it is left as it is) and `StoreUnavailable` where the file can't be used.
 */
export function openStore(options: StoreOptions): Store {
  const { file, readonly = false, nowMs = Date.now, logger } = options;
  const { db, migrated } = openDatabase(file, readonly);
  try {
    return partsOf(makeContext(db, file, nowMs, logger), migrated);
  } catch (error) {
    db.close();
    if (error instanceof StoreUnavailable && error.kind === 'damaged') throw new StoreRefused(error.message);
    throw error;
  }
}

function partsOf(context: Context, migrated: MigrationReport): Store {
  const { db, file } = context;
  if (migrated.notes.length > 0) context.log.info({ ...migrated }, 'database upgraded');
  const layers = new ReadingLayers(context);
  const rollups = new RollupDays(context);
  const sealer = new Sealer(context, layers, rollups);
  const channelIds = new ChannelIds(context);
  const channelStore = channels(context, layers, channelIds);
  const assignmentStore = assignments(context);
  const quarantineStore = quarantine(context);
  const announcementStore = announcements(context);
  const forgetChannels = channelForgetter(context, layers, channelIds, channelStore, assignmentStore);
  return {
    file,
    migrated,
    ingest: ingest(context, layers, channelIds, quarantineStore, announcementStore),
    announcements: announcementStore,
    channels: channelStore,
    readings: readings(context, layers, rollups, sealer, channelStore, assignmentStore),
    places: { ...sites(context), ...hives(context), ...assignmentStore },
    introductions: introductions(context),
    queens: queens(context),
    alerts: alerts(context),
    settings: settings(context),
    marks: marks(context),
    quarantine: quarantineStore,
    mappings: mappings(context),
    people: people(context),
    devices: devices(context),
    deliveries: deliveries(context),
    forecasts: forecasts(context),
    hiveVisits: hiveVisits(context),
    unreadable: context.unreadable,
    diagnostics: diagnostics(context, layers),
    backup: backups(context),
    expire: (how) => expire(context, layers, sealer, channelIds, how, forgetChannels),
    forgetChannels,
    undoPlanned: plannedRemover(context),
    compact: () => {
      db.pragma('incremental_vacuum(500)');
    },
    close: () => {
      db.close();
    },
  };
}

export { StoreConflict, StoreRefused, StoreUnavailable } from './errors.ts';
