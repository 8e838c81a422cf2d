/** What a monitoring program may read: OpenMetrics text by `prom-client`. Off unless it is set. */
import type { RequestHandler } from 'express';
import { Counter, Gauge, Registry, type OpenMetricsContentType } from 'prom-client';
import type { Access } from './access/access.ts';
import { requireRole } from './access/access.ts';
import { isLocalRequest } from './access/local.ts';
import type { AppDeps } from './deps.ts';
import { lastBackup } from './routes/status.ts';

type Metrics = Registry<OpenMetricsContentType>;
/** A value at the instant of asking; undefined where there is none. */
type Read = () => number | undefined;

function counter(registry: Metrics, name: string, help: string, read: Read): void {
  new Counter({
    name,
    help,
    registers: [registry],
    collect() {
      this.reset();
      this.inc(read() ?? 0);
    },
  });
}

function gauge(registry: Metrics, name: string, help: string, read: Read): void {
  new Gauge({
    name,
    help,
    registers: [registry],
    collect() {
      const value = read();
      if (value === undefined) this.remove();
      else this.set(value);
    },
  });
}

const seconds = (ms: number | undefined): number | undefined => (ms === undefined ? undefined : ms / 1000);
const yes = (is: boolean): number => (is ? 1 : 0);

function ingestMetrics(registry: Metrics, { ingest }: AppDeps): void {
  const counts = {
    welcomb_messages_received_total: ['Messages received over MQTT.', 'received'],
    welcomb_commits_total: ['Transactions in which messages were stored.', 'commits'],
    welcomb_readings_stored_total: ['Readings stored.', 'stored'],
    welcomb_readings_duplicate_total: ['Readings that were there already.', 'duplicates'],
    welcomb_readings_conflict_total: ['Readings that differ from one of the same time.', 'conflicts'],
    welcomb_messages_quarantined_total: ['Messages that were not understood.', 'quarantined'],
  } as const;
  for (const [name, [help, key]] of Object.entries(counts))
    counter(registry, name, help, () => ingest.status().counters[key]);
  gauge(
    registry,
    'welcomb_queue_messages',
    'Messages that wait for their commit.',
    () => ingest.status().pending,
  );
  gauge(registry, 'welcomb_broker_connected', '1 while the broker is there.', () =>
    yes(ingest.status().connected),
  );
  gauge(registry, 'welcomb_store_writable', '1 while readings are being stored.', () =>
    yes(ingest.status().store.state === 'ok'),
  );
}

function ruleMetrics(registry: Metrics, { store, lastEvaluation }: AppDeps): void {
  gauge(registry, 'welcomb_rules_duration_seconds', 'How long the last evaluation of all rules took.', () =>
    seconds(lastEvaluation()?.ms),
  );
  gauge(registry, 'welcomb_rules_last_timestamp_seconds', 'When all rules were evaluated last.', () =>
    seconds(lastEvaluation()?.atMs),
  );
  new Gauge({
    name: 'welcomb_alerts_open',
    help: 'Open alerts.',
    labelNames: ['urgency'],
    registers: [registry],
    collect() {
      const open = store.alerts.list({ open: true });
      for (const urgency of ['now', 'today', 'next-visit'])
        this.set({ urgency }, open.filter((alert) => alert.urgency === urgency).length);
    },
  });
  gauge(
    registry,
    'welcomb_notifications_waiting',
    'Notifications that were not sent yet.',
    () => store.deliveries.waiting().length,
  );
}

function serverMetrics(registry: Metrics, deps: AppDeps): void {
  const { store, startedAtMs, heartbeat } = deps;
  gauge(
    registry,
    'welcomb_disk_free_bytes',
    'Room on the disk of the database.',
    () => store.diagnostics().freeBytes ?? undefined,
  );
  gauge(registry, 'welcomb_database_bytes', 'Size of the database and its log.', () => {
    const { fileBytes, logBytes } = store.diagnostics();
    return fileBytes + logBytes;
  });
  gauge(registry, 'welcomb_backup_timestamp_seconds', 'When the newest backup was made.', () => {
    const backup = lastBackup(store);
    return backup === null ? undefined : Date.parse(backup.at) / 1000;
  });
  gauge(registry, 'welcomb_heartbeat_timestamp_seconds', 'When a heartbeat was sent last.', () =>
    seconds(heartbeat()?.sentAtMs ?? undefined),
  );
  gauge(registry, 'process_resident_memory_bytes', 'Memory that the server takes.', () =>
    process.memoryUsage.rss(),
  );
  gauge(registry, 'process_start_time_seconds', 'When the server started.', () => seconds(startedAtMs));
}

/** To this machine, and to whoever has a token or is signed in. */
export function metricsRoute(deps: AppDeps, access: Access): RequestHandler {
  const registry = new Registry<OpenMetricsContentType>();
  registry.setContentType(Registry.OPENMETRICS_CONTENT_TYPE);
  ingestMetrics(registry, deps);
  ruleMetrics(registry, deps);
  serverMetrics(registry, deps);
  return async (request, response) => {
    if (!isLocalRequest(request)) requireRole(access.whoAsks(request), 'viewer');
    const text = await registry.metrics();
    response.set({ 'Content-Type': registry.contentType, 'Cache-Control': 'no-store' }).send(text);
  };
}
