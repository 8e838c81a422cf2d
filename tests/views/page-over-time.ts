/** What a nuc's page, its alerts and the list of tonight say together, instant by instant of a scenario with its field log. */
import { join } from 'node:path';
import type { AlertDto } from '../../server/contract/alerts.ts';
import type { NucDetail } from '../../server/contract/nucs.ts';
import { isOpen } from '../../server/rules/engine/alert-state.ts';
import { evaluateAll, type Alerts, type RuleEvaluation } from '../../server/rules/engine/evaluate.ts';
import type { ChannelHealth } from '../../server/rules/engine/inputs.ts';
import { noLimitSettings } from '../../server/rules/engine/limits.ts';
import { readWhere } from '../../server/farm/sensor-positions.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { nucAlerts } from '../../server/views/alerts/alert-reader.ts';
import { alertToWire } from '../../server/views/alerts/alert-view.ts';
import { nucDetail } from '../../server/views/nuc/nuc-detail.ts';
import type { LatestOfPlace, SummaryParts } from '../../server/views/nuc/nuc-summary.ts';
import type { NucAnalysis } from '../../server/watch/nuc-analysis.ts';
import { nucContext } from '../../server/watch/nuc-context.ts';
import { pastNuc } from '../../server/watch/past-nuc.ts';
import { pastSensors } from '../../server/watch/past-sensors.ts';
import { nucInput } from '../../server/watch/rule-inputs.ts';
import { setFor } from '../../server/words/phrase.ts';
import type { ScenarioName } from '../../simulator/index.ts';
import { dropFolder, newFolder } from '../support/server-process.ts';
import { storeSimulated } from '../support/simulated-history.ts';
import { scenarioOptions } from '../watch/support/same-as-live.ts';

const minuteMs = 60_000;
/** Between two looks of the rules; the page is read every so many of them. */
const stepMs = 30 * minuteMs;
const nucId = 'nuc-1';

export interface Page {
  readonly nowMs: number;
  readonly analysis: NucAnalysis;
  readonly detail: NucDetail;
  /** Open alerts about the nuc and its sensors, as their own page tells them. */
  readonly alerts: readonly AlertDto[];
  /** Rules that find something this minute. */
  readonly found: readonly string[];
}

/** Values that a probe sends when it has measured nothing are flagged on the way in. */
const isSentinel = (value: number): boolean => value === -127 || value === 85;

const latestOf = (health: ChannelHealth): LatestOfPlace[] =>
  health.place === null || health.lastValue === null || health.lastHeardMs === null
    ? []
    : [
        {
          place: health.place,
          value: health.lastValue,
          atMs: health.lastHeardMs,
          health,
          unit: health.quantity === 'weight' ? 'kg' : 'Cel',
          suspect: health.quantity === 'temperature' && isSentinel(health.lastValue),
        },
      ];

interface Looked {
  readonly store: Store;
  readonly analysis: NucAnalysis;
  readonly healths: readonly ChannelHealth[];
  readonly alerts: Alerts;
  readonly evaluations: readonly RuleEvaluation[];
}

function pageAt({ store, analysis, healths, alerts, evaluations }: Looked): Page {
  const { nowMs, display } = analysis;
  const byKey = new Map(evaluations.map((one) => [one.key, one]));
  const watch = {
    book: { alerts, endedAbout: () => [] },
    latestEvaluations: () => byKey,
    where: () => readWhere(store, nowMs),
  };
  const reader = {
    displayOf: () => display,
    evidence: () => null,
    explains: () => [],
    explainedBy: () => null,
    evaluationOf: (key: string) => byKey.get(key),
  };
  const parts: SummaryParts = {
    analysis,
    queen: undefined,
    nextQueen: undefined,
    forecast: undefined,
    hours: [],
    latest: healths.flatMap(latestOf),
    alerts: nucAlerts({ store, watch, timeZone: () => display.timeZone }, nucId, nowMs),
  };
  return {
    nowMs,
    analysis,
    detail: nucDetail(parts, undefined, setFor(display), nowMs),
    alerts: [...alerts.values()].filter(isOpen).flatMap((alert) => alertToWire(alert, reader) ?? []),
    found: evaluations.filter(({ evaluation }) => evaluation.verdict === 'yes').map(({ ruleId }) => ruleId),
  };
}

/** A scenario from its split on, every three hours; `days` of it. */
export function* pagesOf(scenario: ScenarioName, seed: number, days: number): Generator<Page> {
  const folder = newFolder();
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => 0 });
  try {
    const { splitMs, endMs } = storeSimulated(store, nucId, { ...scenarioOptions(scenario, seed), days });
    const nuc = store.places.hive(nucId);
    if (!nuc) throw new Error(`${nucId} is not in the store`);
    const span = { fromMs: splitMs, toMs: endMs };
    const at = pastNuc(store, nucContext(store, nuc), {
      ...span,
      choices: { chanceLimit: 0.05, unavailableDates: [], units: { temperature: 'C', weight: 'kg' } },
      forecastAt: () => undefined,
      logAsWritten: true,
    });
    const sensors = pastSensors(store, nuc, { ...span, limits: noLimitSettings });
    let alerts: Alerts = new Map();
    for (let nowMs = splitMs + stepMs; nowMs < endMs; nowMs += stepMs) {
      const analysis = at(nowMs);
      const { inputs, healths } = sensors.at(nowMs);
      const found = evaluateAll([nucInput(analysis, healths, null, nowMs), ...inputs], alerts, nowMs, {
        everything: true,
      });
      alerts = found.alerts;
      if ((nowMs - splitMs) % (6 * stepMs) !== 0) continue;
      yield pageAt({ store, analysis, healths, alerts, evaluations: found.evaluations });
    }
  } finally {
    store.close();
    dropFolder(folder);
  }
}
