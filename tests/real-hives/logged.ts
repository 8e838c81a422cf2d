/**
 * Whole introductions, with the log that a keeper would have written, laid on the open series one after the other, stored and
 * looked at again as a keeper's own would be. The hives were strong and nobody split them, so that what is told of their brood
 * is told of readings as they were, and of nothing else.
 */
import { join } from 'node:path';
import { Temporal } from 'temporal-polyfill';
import type { RuleId } from '../../server/rules/catalogue/registry.ts';
import { between } from '../../server/signals/series.ts';
import { openStore } from '../../server/store/store.ts';
import { replayNuc } from '../../server/views/alerts/replay-nuc.ts';
import { AlertBook } from '../../server/watch/alert-book.ts';
import { logOf } from '../levels/second-introduction.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import type { WatchedHive } from './watched-hive.ts';

const dayMs = 86_400_000;
/** Until the day after she was looked for, and two more. */
export const days = 20;
/** Nights before the split that are read, too. */
const daysBefore = 2;
const framesOfBees = 5;

export interface LoggedAlert {
  readonly hive: string;
  readonly ruleId: string;
  readonly urgency: string;
  readonly raisedAt: string;
  readonly day: number;
  /** Lowest brood of the six hours from then on, °C. */
  readonly lowestC: number;
}

/** Told of the nest itself. A split that loses no forager looks strong, and its log is what visits hang on. */
const aboutTheNest: ReadonlySet<string> = new Set<RuleId>([
  'brood-chilling',
  'chilling-ahead',
  'chilling-tonight',
  'brood-too-hot',
  'colony-failing',
  'too-weak-to-keep-warm',
]);

/** Noon of the first days of the introductions that fit into a series, by the clock of its place. */
export function starts({ series, place, failsFromMs = Infinity }: WatchedHive): number[] {
  const { atMs = new Float64Array(0) } = series.broodC ?? {};
  const untilMs = Math.min(atMs.at(-1) ?? 0, failsFromMs);
  const first = Temporal.Instant.fromEpochMilliseconds(Math.ceil(atMs[0] ?? 0))
    .toZonedDateTimeISO(place.timeZone)
    .toPlainDate()
    .add({ days: daysBefore + 1 });
  const found: number[] = [];
  for (let day = first; ; day = day.add({ days })) {
    const noonMs = day.toZonedDateTime({ timeZone: place.timeZone, plainTime: '12:00' }).epochMilliseconds;
    if (noonMs + days * dayMs > untilMs) return found;
    found.push(noonMs);
  }
}

/** *Now* and *today* alerts about the nest in one introduction. */
export function loggedAlerts(hive: WatchedHive, movedAtMs: number): LoggedAlert[] {
  const endMs = movedAtMs + days * dayMs;
  const fromMs = movedAtMs - daysBefore * dayMs;
  const { broodC, outsideC } = hive.series;
  const folder = newFolder();
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => endMs });
  try {
    store.places.putSite({ id: 'place', name: 'place', ...hive.place });
    store.places.putHive({
      id: 'nuc',
      siteId: 'place',
      role: 'nuc',
      name: 'nuc',
      box: { kind: 'wood' },
      createdAtMs: fromMs,
    });
    store.introductions.open({
      id: 'introduction',
      nucId: 'nuc',
      startingPoint: 'planned-split',
      method: 'candy-cage',
      setup: { plannedSplit: new Date(movedAtMs).toISOString() },
      openedAtMs: fromMs,
    });
    // Two hours before noon.
    const visits = [7, 10, 17].map((day) => movedAtMs + day * dayMs - 2 * 3_600_000);
    store.introductions.append(logOf({ movedAtMs, framesOfBees }, visits));
    const readings = (['brood', 'outside'] as const).flatMap((sensor) => {
      const { atMs, value } = between(sensor === 'brood' ? broodC : outsideC, fromMs, endMs);
      const temperature = { sensor, probe: '', quantity: 'temperature', unit: 'Cel' } as const;
      return Array.from(atMs, (at, i) => ({
        ...temperature,
        value: value[i] as number,
        observedAtMs: at,
        receivedAtMs: at,
      }));
    });
    store.ingest.commit({ readings, quarantined: [], lastKnown: [] });
    for (const { id: channelId, sensor } of store.channels.list()) {
      const [owner, position] =
        sensor === 'brood'
          ? ([{ hiveId: 'nuc' }, 'brood'] as const)
          : ([{ siteId: 'place' }, 'outside'] as const);
      store.places.assign({ channelId, owner, position, fromMs, toMs: null });
    }
    const asked = {
      nucId: 'nuc',
      from: new Date(movedAtMs).toISOString(),
      to: new Date(endMs - 1).toISOString(),
    };
    const { items = [] } = replayNuc({ store, book: new AlertBook(store) }, { ...asked, limits: {} }) ?? {};
    return items
      .filter(({ ruleId, text }) => aboutTheNest.has(ruleId) && text !== 'next visit')
      .map(({ ruleId, text, raisedAt }) => {
        const atMs = Date.parse(raisedAt);
        const lowestC = Math.min(...between(broodC, atMs, atMs + dayMs / 4).value);
        return { hive: hive.name, ruleId, urgency: text, raisedAt, day: (atMs - movedAtMs) / dayMs, lowestC };
      });
  } finally {
    store.close();
    dropFolder(folder);
  }
}
