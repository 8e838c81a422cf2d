/** A nuc in a list: where it stands, what it says, what is next. */
import type { NucSummary } from '../../contract/nucs.ts';
import type { Place } from '../../contract/common.ts';
import type { ChannelHealth } from '../../rules/engine/inputs.ts';
import type { PlanStep } from '../../introduction/acts/plan-step.ts';
import type { IntroductionState } from '../../introduction/state.ts';
import type { Forecast } from '../../signals/types.ts';
import type { Say } from '../../words/phrase.ts';
import { driftShort, driftText } from '../../watch/gate-evidence.ts';
import { stageNow } from '../../watch/stage-facts.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';
import { hiveToWire, iso } from '../../farm/wire.ts';
import { doneAlready } from './done-already.ts';
import { stepState, stepToWire } from '../plan/plan-steps.ts';
import { urgencyOrder } from '../alerts/alert-view.ts';
import { tonightToWire } from './tonight.ts';
import { railOf, type HourOfBrood, type RailAlert } from './rail.ts';

export interface LatestOfPlace {
  readonly place: Place;
  readonly value: number;
  readonly unit: string;
  readonly atMs: number;
  readonly suspect: boolean;
  readonly impossible?: true;
  readonly health: ChannelHealth;
}

export interface SummaryParts {
  readonly analysis: NucAnalysis;
  /** As the keeper knows her: line and source, else what the log calls her. */
  readonly queen: string | undefined;
  /** What the queen that comes next is called. */
  readonly nextQueen: string | undefined;
  readonly latest: readonly LatestOfPlace[];
  /** The weather forecast of the night ahead, where one is believed. */
  readonly forecast: Forecast | undefined;
  readonly hours: readonly HourOfBrood[];
  readonly alerts: readonly (RailAlert & {
    readonly ruleId: string;
    readonly headline: string;
    readonly open: boolean;
  })[];
}

/** The rail's visits say it already. */
const saysThePlan = new Set(['visit-due', 'visit-overdue']);

/** A list shows the first of them; of two as urgent the newer. */
export const mostUrgentFirst = <A extends Pick<RailAlert, 'urgency' | 'fromMs'>>(alerts: readonly A[]): A[] =>
  alerts.toSorted((a, b) => urgencyOrder[a.urgency] - urgencyOrder[b.urgency] || b.fromMs - a.fromMs);

export function nucSummary(
  { analysis, queen, nextQueen, latest, forecast, hours, alerts }: SummaryParts,
  say: Say,
  nowMs: number,
): NucSummary {
  const { nuc, site, state, introduction, signals, plan, gates } = analysis;
  const next = nextOf(plan, nowMs);
  const candy = gates.find(({ gate }) => gate === 'open-candy');
  const stage = state?.stage ?? null;
  const words = state && stageNow(state, signals);
  return {
    hive: hiveToWire(nuc),
    siteName: site.name,
    introductionId: introduction?.id ?? null,
    stage: stage ?? 'none',
    stageText: words ? `${words.name}: ${words.line}` : 'No introduction is open in this nuc.',
    stageName: words?.name ?? 'no introduction open',
    day: state?.dayNumber ?? null,
    latest: Object.fromEntries(latest.map((one) => [one.place, latestToWire(one, nowMs)])),
    drift: signals && state ? driftToWire(signals.drift, say) : null,
    tonight: signals && tonightToWire(signals.outlook, forecast),
    nextStep: next ? stepToWire(analysis, next, nowMs) : null,
    candyGate: candy
      ? {
          answer: candy.answer,
          headline: candy.headline,
          ...(candy.untilMs === undefined ? {} : { until: iso(candy.untilMs) }),
          ...doneAlready(candy, state),
        }
      : null,
    alerts: mostUrgentFirst(alerts.filter(({ open }) => open)).map(({ id, ruleId, urgency, headline }) => ({
      id,
      ruleId,
      urgency,
      headline,
    })),
    ...(isLost(state) && { queenLost: true }),
    ...(state?.signs.diseaseAtMs != null && { diseaseSigns: true }),
    rail: railOf(
      analysis,
      hours,
      alerts.filter(({ ruleId }) => !saysThePlan.has(ruleId)),
      nowMs,
    ),
    setup: analysis.setup && {
      method: analysis.setup.method,
      ...(queen === undefined ? {} : { queen }),
      ...(nextQueen === undefined ? {} : { nextQueen }),
    },
  };
}

/** What something wrong stands against is none. A queen who is late is waited for; what is due in the nuc goes first. */
function nextOf(plan: readonly PlanStep[], nowMs: number): PlanStep | undefined {
  const open = plan.filter(({ done, offered, blocked }) => !done && !offered && blocked?.answer !== 'stop');
  const due = open.filter((step) => ['due', 'overdue'].includes(stepState(step, nowMs)));
  const first = due[0] ?? open[0];
  if (first?.kind !== 'queen-arrives' || stepState(first, nowMs) !== 'overdue') return first;
  return due[1] ?? first;
}

const isLost = (state: IntroductionState | null): boolean =>
  state !== null && !state.outcome && (state.queen.where === 'dead' || state.queen.where === 'gone');

function driftToWire(
  drift: NonNullable<NucAnalysis['signals']>['drift'],
  say: Say,
): NonNullable<NucSummary['drift']> {
  const { state, massG, bees, completeness, flightHours, flyingDays } = drift;
  return {
    state,
    text: say(driftText(drift)),
    short: say(driftShort(drift)),
    massG: copy(massG, say),
    bees: copy(bees, say),
    completeness: copy(completeness, say),
    flightHours,
    flyingDays,
  };
}

type EstimateDto = NonNullable<NucSummary['drift']>['massG'];
const copy = (estimate: NonNullable<NucAnalysis['signals']>['drift']['massG'], say: Say): EstimateDto =>
  estimate.ok ? { ...estimate, restsOn: estimate.restsOn.map(say) } : { ...estimate, why: say(estimate.why) };

/** Twice the usual interval, and never sooner than ten minutes: then what is shown is no longer "now". */
const staleAfterMs = ({ expectedIntervalMs }: ChannelHealth): number =>
  Math.max(10 * 60_000, 2 * (expectedIntervalMs ?? 30 * 60_000));

const latestToWire = ({ value, unit, atMs, suspect, impossible, health }: LatestOfPlace, nowMs: number) => ({
  value,
  unit,
  time: iso(atMs),
  stale: nowMs - atMs > staleAfterMs(health),
  suspect,
  ...(impossible && { impossible }),
});
