/** What a replay finds of the sensors is what the watch found, to a step of its grid: through gaps, late batches and faults. */
import { join } from 'node:path';
import { afterEach, beforeEach, describe, expect, it } from 'vitest';
import { AlertBook } from '../../server/watch/alert-book.ts';
import { watchChannels } from '../../server/watch/channel-watch.ts';
import { replayNuc } from '../../server/views/alerts/replay-nuc.ts';
import { sensorInputs } from '../../server/watch/rule-inputs.ts';
import { readWhere } from '../../server/farm/sensor-positions.ts';
import type { Effect } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts } from '../../server/rules/engine/evaluate.ts';
import { noLimitSettings } from '../../server/rules/engine/limits.ts';
import { rules as allRules } from '../../server/rules/catalogue/registry.ts';
import { raisingsOf } from '../../server/rules/engine/replay.ts';
import { nucsOf } from '../../server/rules/engine/suppression.ts';
import type { IncomingReading } from '../../server/store/port.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import type { SensorFault } from '../../simulator/sensors/faults.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { assignSimulated, foundSimulated, type SimulatedHistory } from '../support/simulated-history.ts';
import { full } from '../support/size.ts';

const minuteMs = 60_000;
const hourMs = 60 * minuteMs;
const dayMs = 24 * hourMs;
const splitMs = Date.UTC(2026, 4, 12, 8);
const rules = allRules.filter(({ on }) => on === 'channel' || on === 'device');
const iso = (atMs: number): string => new Date(atMs).toISOString();
const nucId = 'nuc';

let folder = '';
let store: Store;
beforeEach(() => {
  folder = newFolder();
  store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => splitMs });
});
afterEach(() => {
  store.close();
  dropFolder(folder);
});

interface Raised {
  readonly ruleId: string;
  readonly about: string;
  readonly from: string;
  readonly to: string | null;
}
const byBeginning = (a: Raised, b: Raised): number =>
  `${a.ruleId} ${a.about} ${a.from}`.localeCompare(`${b.ruleId} ${b.about} ${b.from}`);
const stepMs = 10 * minuteMs;

function takeBroodAway(toMs: number): void {
  const stood = store.places.assignmentsOf({ hiveId: nucId }).find(({ position }) => position === 'brood');
  if (stood) store.places.changeAssignment(stood.id, { toMs });
}

/** Rules about sensors alone, every minute, over what had come by then. */
function watched(
  history: SimulatedHistory,
  readings: readonly IncomingReading[],
  sinceMs: number,
  broodGoneMs: number,
): Raised[] {
  const channels = watchChannels(store);
  let alerts: Alerts = new Map();
  const effects: Effect[] = [];
  let read = 0;
  for (let nowMs = splitMs - 4 * hourMs; nowMs <= history.endMs; nowMs += minuteMs) {
    const from = read;
    while ((readings[read]?.receivedAtMs ?? Infinity) <= nowMs) read += 1;
    const batch = { readings: readings.slice(from, read), quarantined: [], lastKnown: [] };
    if (read > from) channels.note(store.ingest.commit(batch).stored, nowMs);
    assignSimulated(store, history);
    if (nowMs === broodGoneMs) takeBroodAway(nowMs);
    const { ofChannel } = readWhere(store, nowMs);
    const standing = store.channels.list().flatMap((channel) => {
      const at = ofChannel.get(channel.id);
      return at ? [{ ...at, health: channels.health(channel, at.assignment.position, nowMs) }] : [];
    });
    if (nowMs < sinceMs) continue;
    const inputs = sensorInputs(standing, nowMs).filter(({ subject }) => nucsOf(subject).includes(nucId));
    const looked = evaluateAll(inputs, alerts, nowMs, { rules, everything: true });
    ({ alerts } = looked);
    effects.push(...looked.effects);
  }
  return raisingsOf(effects)
    .map(({ ruleId, subject, raisedAtMs, endedAtMs }) => ({
      ruleId,
      about: subject.name,
      from: iso(raisedAtMs),
      to: endedAtMs === null ? null : iso(endedAtMs),
    }))
    .sort(byBeginning);
}

function replayed(sinceMs: number, toMs: number): Raised[] {
  const asked = { nucId, from: iso(sinceMs), to: iso(toMs), limits: noLimitSettings.farm };
  const answer = replayNuc({ store, book: new AlertBook(store) }, asked, rules);
  return (answer?.items ?? [])
    .map(({ ruleId, subject, raisedAt, clearedAt }) => ({
      ruleId,
      about: subject.name,
      from: raisedAt,
      to: clearedAt,
    }))
    .sort(byBeginning);
}

/** Some come in a batch, hours late: a probe's radio was away, and it kept what it measured. */
const inBatches = (readings: readonly IncomingReading[], everyH: number): IncomingReading[] =>
  readings
    .map((one) => {
      const sinceMs = one.observedAtMs - splitMs;
      const isLate = Math.floor(sinceMs / (everyH * hourMs)) % 5 === 3;
      const endMs = splitMs + Math.ceil(sinceMs / (everyH * hourMs)) * everyH * hourMs;
      return { ...one, receivedAtMs: isLate ? endMs : one.observedAtMs };
    })
    .sort((a, b) => a.receivedAtMs - b.receivedAtMs || a.observedAtMs - b.observedAtMs);

describe('the sensors of a nuc in a replay', () => {
  const now = (fault: Omit<SensorFault, 'untilDay'>, untilDay: number): SensorFault => ({
    ...fault,
    untilDay,
  });
  const stuckSince = (place: 'brood' | 'scale', fromDay: number, untilDay: number): SensorFault =>
    now({ place, kind: 'stuck', fromDay }, untilDay);

  const ways = [
    {
      how: 'now and again silent',
      seed: 31,
      batchH: 7,
      faults: [now({ place: 'brood', kind: 'silent', fromDay: 4.11 }, 4.36)],
    },
    {
      how: 'seldom heard',
      seed: 34,
      everyMinutes: 245,
      batchH: 9,
      faults: [stuckSince('brood', 0.2, 4), stuckSince('scale', 0.4, 5)],
    },
    {
      how: 'stuck, then out of their senses',
      seed: 32,
      batchH: 9,
      faults: [
        stuckSince('brood', 1, 3),
        now({ place: 'brood', kind: 'power-on-85', fromDay: 3.5 }, 3.8),
        now({ place: 'cage', kind: 'gone-127', fromDay: 2 }, 2.2),
        stuckSince('scale', 2.2, 4),
      ],
    },
    {
      how: 'stuck and taken away',
      seed: 32,
      batchH: 9,
      broodGoneMs: splitMs + 2.3 * dayMs,
      faults: [stuckSince('brood', 1, 3)],
    },
    {
      how: 'of an empty battery',
      seed: 33,
      batchH: 5,
      faults: [
        { place: 'battery', kind: 'battery-low', fromDay: 1 } as const,
        now({ place: 'scale', kind: 'silent', fromDay: 0.2 }, 1.1),
      ],
    },
  ];
  it.runIf(full).each(ways)(
    'that are $how, are found as live, within a step',
    ({ seed, faults, batchH, ...rest }) => {
      const everyMinutes = 'everyMinutes' in rest ? rest.everyMinutes : 5;
      const history = foundSimulated(store, nucId, { seed, days: 6, everyMinutes, splitMs, faults });
      const readings = inBatches(
        history.readings.map((one) =>
          one.value === 85 || one.value === -127 ? { ...one, suspect: 'sentinel' as const } : one,
        ),
        batchH,
      );
      const sinceMs = splitMs + dayMs / 2;
      const broodGoneMs = 'broodGoneMs' in rest ? Math.round(rest.broodGoneMs / minuteMs) * minuteMs : NaN;
      const live = watched(history, readings, sinceMs, broodGoneMs);
      expect(live.length).toBeGreaterThanOrEqual(2);
      const found = replayed(sinceMs, history.endMs);
      const named = (all: readonly Raised[]): string[] =>
        all.map(({ ruleId, about, to }) => `${ruleId}: ${about}${to === null ? ', open' : ''}`);
      expect(named(found)).toEqual(named(live));
      for (const [i, { from, to }] of found.entries()) {
        expect(Math.abs(Date.parse(from) - Date.parse(live[i]!.from))).toBeLessThanOrEqual(stepMs);
        if (to !== null)
          expect(Math.abs(Date.parse(to) - Date.parse(live[i]!.to!))).toBeLessThanOrEqual(stepMs);
      }
    },
    60_000,
  );
});
