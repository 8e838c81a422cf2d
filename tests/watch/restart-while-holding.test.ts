/** A start after an outage: the time without a server is left out of a hold once, however often a nuc is evaluated before the first tick. */
import { join } from 'node:path';
import { expect, it, onTestFinished } from 'vitest';
import { createFarm, type Farm } from '../../server/service/farm-service.ts';
import { createEventsHub } from '../../server/views/events-hub.ts';
import { openStore } from '../../server/store/store.ts';
import { probeOrNest } from '../../server/rules/catalogue/temperature/probe-or-nest.ts';
import { makeLiveFarm, readingsOf } from '../bench/live-farm.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';

const minuteMs = 60_000;
const heldMin = 10;
const outageMs = 60 * minuteMs;
const coldFromMs = Date.UTC(2026, 5, 1, 9);

/** A nuc whose brood has been cold since `coldFromMs`, and servers that run one after another on the same database. */
function coldNuc() {
  const folder = newFolder();
  makeLiveFarm(folder, 1, coldFromMs, 3);
  let nowMs = coldFromMs;
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => nowMs });
  onTestFinished(() => {
    store.close();
    dropFolder(folder);
  });
  const startServer = (): Farm =>
    createFarm({
      store,
      events: createEventsHub(),
      clock: () => nowMs,
      startedAtMs: nowMs,
      onError: (error) => {
        throw error;
      },
    });
  /** Its sensors report, and the nuc is evaluated by itself. */
  const report = ({ watch }: Farm): void => {
    const readings = readingsOf(0, nowMs).map((reading) =>
      reading.probe === 'brood' ? { ...reading, value: 22 } : reading,
    );
    watch.readingsCame(store.ingest.commit({ readings, quarantined: [], lastKnown: [] }), nowMs);
    watch.work(nowMs);
  };
  const alertIn = ({ watch }: Farm) =>
    [...watch.book.alerts.values()].find(({ ruleId }) => ruleId === probeOrNest.id)?.at;
  const minute = (farm: Farm): void => {
    nowMs += minuteMs;
    report(farm);
    farm.watch.tick(nowMs);
  };
  return {
    startServer,
    report,
    alertIn,
    minute,
    pass: (ms: number) => {
      nowMs += ms;
    },
  };
}

it('leaves the outage out of a hold that it interrupted', () => {
  const { startServer, report, alertIn, minute, pass } = coldNuc();
  const before = startServer();
  for (let minutes = 0; alertIn(before)?.phase !== 'holding'; minutes += 1) {
    expect(minutes).toBeLessThan(60);
    minute(before);
  }
  for (let held = 0; held < heldMin; held += 1) minute(before);
  before.stop();

  pass(outageMs);
  const after = startServer();
  for (let look = 0; look < 3; look += 1) {
    report(after);
    pass(3000);
  }
  let minutes = 0;
  for (; alertIn(after)?.phase === 'holding' && minutes < 600; minutes += 1) minute(after);
  expect(alertIn(after)?.phase).toBe('raised');
  // To the minute, and the one in which the server stopped.
  expect(Math.abs(minutes - (probeOrNest.holdMin - heldMin))).toBeLessThanOrEqual(2);
});
