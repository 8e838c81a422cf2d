/** A replay that leaps finds what one that looks every minute finds: silences, falls and flickers of simulated months. */
import { join } from 'node:path';
import { afterAll, describe, expect, it } from 'vitest';
import { AlertBook } from '../../server/watch/alert-book.ts';
import { nucContext } from '../../server/watch/nuc-context.ts';
import { pastNuc } from '../../server/watch/past-nuc.ts';
import { replayNuc } from '../../server/views/replay-nuc.ts';
import { pastSensors } from '../../server/watch/past-sensors.ts';
import { nucInput } from '../../server/watch/rule-inputs.ts';
import { noLimitSettings } from '../../server/rules/engine/limits.ts';
import { replay } from '../../server/rules/engine/replay.ts';
import type { ScenarioName, ScenarioOptions } from '../../simulator/index.ts';
import { openStore } from '../../server/store/store.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { storeSimulated } from '../support/simulated-history.ts';

const minuteMs = 60_000;
const iso = (atMs: number): string => new Date(atMs).toISOString();

describe('a replay', () => {
  const folder = newFolder();
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => Date.now() });
  afterAll(() => {
    store.close();
    dropFolder(folder);
  });

  const unseen = (scenario: ScenarioName): Partial<ScenarioOptions> => ({
    ...{ scenario, setting: 'unseen', days: 22, everyMinutes: 10 },
  });
  const chilling = 'brood-chilling';
  const ahead = 'chilling-ahead';
  it.each<[number, Partial<ScenarioOptions>, string, number, number]>([
    // A chilling that began shortly before its probe fell silent, or was over before the next reading.
    [107, {}, chilling, Date.UTC(2026, 5, 9, 12), Date.UTC(2026, 5, 10, 12)],
    [111, {}, chilling, Date.UTC(2026, 5, 8, 18), Date.UTC(2026, 5, 9, 18)],
    [112, {}, chilling, Date.UTC(2026, 5, 7, 12), Date.UTC(2026, 5, 8, 12)],
    // A fall that is told and over within an hour, with its ends near one another, and one told in a silence while a long hold runs.
    [718, unseen('scale-drifting'), ahead, Date.UTC(2026, 4, 12, 12), Date.UTC(2026, 4, 13, 12)],
    [712, unseen('stores-out'), ahead, Date.UTC(2026, 4, 14, 18), Date.UTC(2026, 4, 15, 6)],
  ])(
    'of seed %i finds the same with leaps as minute by minute',
    (seed, options, rule, fromMs, toMs) => {
      const splitMs = Date.UTC(2026, 4, 12, 8);
      const history = storeSimulated(store, `nuc-${String(seed)}`, {
        ...{ seed, days: 30, everyMinutes: 5, splitMs, ...options },
      });
      const nuc = store.places.hive(history.nucId);
      if (!nuc) throw new Error(`${history.nucId} is not in the store`);
      const past = pastNuc(store, nucContext(store, nuc), {
        ...{ fromMs, toMs, asWatchedEveryMs: minuteMs },
        choices: { chanceLimit: 0.05, unavailableDates: [], units: { temperature: 'C', weight: 'kg' } },
        forecastAt: () => undefined,
      });
      const span = { fromMs, toMs, tickMs: minuteMs };
      const sensors = pastSensors(store, nuc, { ...span, limits: noLimitSettings });
      const { raisings } = replay({
        ...span,
        inputsAt: (nowMs) => [nucInput(past.analysisAt(nowMs), [], null, nowMs), ...sensors.at(nowMs).inputs],
      });
      const answer = replayNuc(
        { store, book: new AlertBook(store) },
        { nucId: history.nucId, from: iso(fromMs), to: iso(toMs), limits: {} },
      );
      const found = answer?.items.map(({ ruleId, raisedAt, clearedAt }) => [ruleId, raisedAt, clearedAt]);
      const exact = raisings.map(({ ruleId, raisedAtMs, endedAtMs }) => [
        ...[ruleId, iso(raisedAtMs)],
        endedAtMs === null ? null : iso(endedAtMs),
      ]);
      expect(found?.sort()).toEqual(exact.sort());
      expect(exact.some(([ruleId]) => ruleId === rule)).toBe(true);
      expect(answer?.ticks).toBeLessThan(1440 / 5);
    },
    60_000,
  );
});
