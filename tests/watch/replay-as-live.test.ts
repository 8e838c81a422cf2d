/** What a replay of stored history finds is what the watch raised when it happened, to a step of the replay's grid. */
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, describe, expect, it } from 'vitest';
import { rules } from '../../server/rules/catalogue/registry.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { full, sized } from '../support/size.ts';
import {
  differences,
  differencesIn,
  replayed,
  scenarioOptions,
  stepMs,
  windows,
} from './support/same-as-live.ts';
import { iso, watchedLive, type Told } from './support/watched-live.ts';

const hourMs = 3_600_000;
/** A weak nuc in cold weather: told of the cold night after night, and of its visits. */
const cold = scenarioOptions('cold-snap', 1);

describe('a replay', () => {
  const folder = newFolder();
  afterAll(() => {
    dropFolder(folder);
  });

  // Of every scenario, and longer, in `replay-as-live.long.test.ts`.
  it.each(full ? (['clean', 'cold-snap', 'robbed'] as const) : (['cold-snap', 'robbed'] as const))(
    'finds what was watched live in a window of the scenario %s',
    (scenario) => {
      fc.assert(
        fc.property(windows, (window) => {
          expect(differencesIn(folder, scenario, window, sized(3, 6))).toEqual([]);
        }),
        { numRuns: 1, endOnFailure: true },
      );
    },
    60_000,
  );

  it.runIf(full)(
    'of three cold days finds what they raised, and gives the same twice',
    () => {
      const watched = watchedLive(join(folder, 'cold.db'), 'cold-nuc', { ...cold, days: 3 });
      const told = watched.told();
      // Night after night it is one chilling.
      expect(told.filter(({ ruleId }) => ruleId === 'brood-chilling')).toHaveLength(1);
      expect(told.some(({ clearedAt }) => clearedAt !== null)).toBe(true);
      const found = replayed(watched);
      expect(differences(told, found.told)).toEqual([]);
      expect(found.onlyReally).toEqual([]);
      expect(replayed(watched)).toEqual(found);
      watched.store.settings.put('farm', { historyStepMinutes: 30 }, { by: 'Rowan' });
      expect(replayed(watched).instants).toBeLessThan(found.instants / 2);
      watched.stop();
    },
    600_000,
  );

  it.runIf(full)(
    'of sensors that failed finds nothing of the nuc that they explained',
    () => {
      const faults = [
        { place: 'brood', kind: 'silent', fromDay: 0.3, untilDay: 0.55 },
        { place: 'brood', kind: 'stuck', fromDay: 0.7, untilDay: 2.3 },
        { place: 'brood', kind: 'power-on-85', fromDay: 2.6, untilDay: 3.2 },
        { place: 'scale', kind: 'stuck', fromDay: 0.2, untilDay: 1.5 },
        { place: 'battery', kind: 'battery-low', fromDay: 0 },
      ] as const;
      const watched = watchedLive(
        join(folder, 'faulty.db'),
        'faulty-nuc',
        { ...cold, days: 5, faults },
        { asFlagged: (one) => (one.value === 85 ? { ...one, suspect: 'sentinel' } : one) },
      );
      const told = watched.told();
      // One hold time ends live a minute before the share of bad values falls under its limit for a moment, at a full hour.
      expect(differences(told, replayed(watched).told, 2 * stepMs)).toEqual([]);
      expect(
        told.flatMap(({ ruleId, about }) => (about === 'faulty-nuc' ? [] : `${ruleId}: ${about}`)),
      ).toEqual([
        'sensor-silent: faulty-nuc at faulty-nuc',
        'sensor-stuck: scale of faulty-nuc',
        'sensor-stuck: brood probe of faulty-nuc',
        'battery-low: faulty-nuc at faulty-nuc',
        'sensor-implausible: brood probe of faulty-nuc',
        'sensor-silent: faulty-nuc at faulty-nuc',
      ]);
      // Who believes the probe is told of a chilling more, where each night is one of its own.
      const chillings = (all: readonly Told[]): number =>
        all.filter(({ ruleId }) => ruleId === 'brood-chilling').length;
      const nightly = { 'brood-chilling': { clearHoldMin: 30, sealedDoseKh: 0.5, openDoseKh: 1 } };
      const believed = replayed(
        watched,
        rules.filter(({ on }) => on === 'nuc'),
        nightly,
      );
      expect(chillings(believed.told)).toBe(chillings(replayed(watched, rules, nightly).told) + 1);
      watched.stop();
    },
    600_000,
  );

  it.runIf(full)(
    'goes by the forecasts of its time, and warns of no night that was foretold as warm',
    () => {
      // A warning of the first morning that, unless something else is foretold, stands until the nest is cold at 2 h.
      const warnedOf = scenarioOptions('cold-snap', 6);
      // From the afternoon on each hour a warm night is foretold, whatever comes.
      const foretoldFromMs = warnedOf.splitMs + 6 * hourMs;
      const warm = (nowMs: number): Uint8Array =>
        new TextEncoder().encode(
          JSON.stringify(
            Array.from({ length: 40 }, (_, i) => ({ time: iso(nowMs + i * hourMs), temperature: 26 })),
          ),
        );
      const watched = watchedLive(
        join(folder, 'foretold.db'),
        'foretold-nuc',
        { ...warnedOf, days: 2 },
        {
          atMinute(farm, nowMs) {
            if (nowMs < foretoldFromMs || nowMs % hourMs !== 0) return;
            const message = { topic: 'welcomb/$forecast', site: null, retain: false, receivedAtMs: nowMs };
            expect(farm.takeForecast({ ...message, payload: warm(nowMs) })).toBeNull();
          },
        },
      );
      const told = watched.told();
      expect(differences(told, replayed(watched).told)).toEqual([]);
      const warned = told.filter(({ ruleId }) => ruleId === 'chilling-tonight');
      expect(warned).toHaveLength(1);
      expect(Date.parse(warned[0]!.raisedAt)).toBeLessThan(foretoldFromMs);
      // It has to be over for four hours before it clears.
      expect(Date.parse(warned[0]!.clearedAt!)).toBeLessThan(foretoldFromMs + 5 * hourMs);
      watched.stop();
    },
    600_000,
  );
});
