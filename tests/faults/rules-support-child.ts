/** The farm in a process of its own that a test can kill: its clock and its readings come from the parent. */
import { createEventsHub } from '../../server/views/events-hub.ts';
import { createFarm, type Farm } from '../../server/service/farm-service.ts';
import { episodeOf, isOpen } from '../../server/rules/engine/alert-state.ts';
import type { IncomingReading } from '../../server/store/port.ts';
import { openStore } from '../../server/store/store.ts';

export interface Minute {
  readonly nowMs: number;
  readonly readings: readonly IncomingReading[];
}
export interface Standing {
  readonly holding: readonly string[];
  readonly open: readonly string[];
}

let nowMs = Number(process.argv[3]);
const store = openStore({ file: process.argv[2] ?? '', nowMs: () => nowMs });
let farm: Farm | undefined;

function begin(): Farm {
  return createFarm({
    store,
    events: createEventsHub(),
    clock: () => nowMs,
    startedAtMs: nowMs,
    onError: (error) => {
      throw error;
    },
  });
}

process.on('message', (minute: Minute) => {
  nowMs = minute.nowMs;
  farm ??= begin();
  const { watch } = farm;
  const { readings } = minute;
  if (readings.length > 0)
    watch.readingsCame(store.ingest.commit({ readings, quarantined: [], lastKnown: [] }), nowMs);
  watch.tick(nowMs);
  const alerts = [...watch.book.alerts.values()];
  const standing: Standing = {
    holding: alerts.filter(({ at }) => at.phase === 'holding').map(({ ruleId }) => ruleId),
    open: alerts.filter(isOpen).map((alert) => `${alert.ruleId} since ${String(episodeOf(alert)?.sinceMs)}`),
  };
  process.send?.(standing);
});
