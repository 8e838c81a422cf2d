/**
 * One tick over any number of subjects: every rule judged, causes silence what they explain, and each
 * alert takes its step. Pure: the alerts go in and come out.
 */
import type { Act, AlertState, Effect, Tick } from './alert-state.ts';
import { isOpen, quietAlert } from './alert-state.ts';
import type { NucInput, RuleInput } from './inputs.ts';
import { stepAlert } from './life-cycle.ts';
import { limitsFor, noLimitSettings, type LimitSettings } from './limits.ts';
import { rules as allRules } from '../catalogue/registry.ts';
import type { LimitValues, Rule } from './rule.ts';
import { explanations, visitLogged } from '../catalogue/explanations.ts';
import { causeOf, explainer, type ActiveCause, type Explained, type Explainer } from './suppression.ts';
import { urgencies, type Evaluation, type Subject, type SubjectKind, type Urgency } from './types.ts';
import { hourMs } from '../../durations.ts';

export interface EvaluateOptions {
  readonly rules?: readonly Rule[];
  readonly limits?: LimitSettings;
  readonly closedStandsMs?: Readonly<Record<Urgency, number>>;
  /** The inputs are all that there is: an alert about something that is no longer there does not apply any more. */
  readonly everything?: boolean;
  /** Evaluations that found nothing and that no alert is about are left out of the answer, and of memory meanwhile. */
  readonly alertsOnly?: boolean;
}

/** A rule's last evaluation of a subject, with the life cycle's words for it. */
export interface RuleEvaluation {
  readonly key: string;
  readonly ruleId: string;
  readonly subject: Subject;
  readonly atMs: number;
  readonly evaluation: Evaluation;
  readonly holdMs: number;
  readonly clearHoldMs: number;
  /** Why it is not raised although it is true. */
  readonly suppressedBecause?: string;
}

export interface Suppressed {
  readonly key: string;
  readonly ruleId: string;
  readonly subject: Subject;
  readonly atMs: number;
  readonly byRule: string;
  readonly bySubject: Subject;
  readonly reason: string;
}

export type Alerts = ReadonlyMap<string, AlertState>;

export interface Evaluated {
  readonly alerts: Alerts;
  readonly evaluations: readonly RuleEvaluation[];
  readonly effects: readonly Effect[];
  readonly suppressed: readonly Suppressed[];
  /** The alerts whose state is another than before: all that a store has to write. */
  readonly changed: readonly AlertState[];
}

/** Joined, it is one text: one is kept of each rule and subject, and of a template the engine keeps the parts. */
export const alertKey = (ruleId: string, { kind, id }: Subject): string => [ruleId, kind, id].join('/');

/** Setting: how long a closed alert stands as news. */
const standardClosedStandsMs = { now: 12 * hourMs, today: 24 * hourMs, 'next-visit': 7 * 24 * hourMs };

interface Judged {
  readonly rule: Rule;
  readonly found: RuleEvaluation;
}

export function evaluateAll(
  inputs: readonly RuleInput[],
  alerts: Alerts,
  nowMs: number,
  options: EvaluateOptions = {},
): Evaluated {
  const matters = ({ found: { key, evaluation } }: Judged): boolean =>
    !options.alertsOnly || alerts.has(key) || !findsNothing(evaluation);
  const judged = inputs.flatMap((input) => evaluateInput(input, nowMs, options).filter(matters));
  // Most evaluations find nothing to explain.
  let ask: Explainer | undefined;
  const explained: Explainer = (ruleId, subject) =>
    (ask ??= explainer(activeCauses(inputs, judged, alerts), nowMs))(ruleId, subject);
  const next = new Map(alerts);
  const effects: Effect[] = [];
  const suppressed: Suppressed[] = [];
  const changed: AlertState[] = [];
  const evaluations = judged.map(({ rule, found }) => {
    const { key, ruleId, subject, evaluation } = found;
    const known = alerts.get(key) ?? quietAlert(key, ruleId, subject);
    const before = whereItIsNow(known, found);
    const why =
      evaluation.verdict === 'yes'
        ? (explained(ruleId, subject) ?? toldLately(before, rule, evaluation.urgency ?? rule.urgency, nowMs))
        : null;
    const toldBy = why ? undefined : overtakenBy(evaluation, next, found);
    const judgedSo = why ? 'explained' : toldBy ? 'not-applicable' : evaluation.verdict;
    const step = stepAlert(before, tickOf(rule, found, judgedSo, options));
    effects.push(...(toldBy ? step.effects.map((effect) => ({ ...effect, toldBy })) : step.effects));
    keep(next, changed, known, step.alert);
    if (!why) return found;
    const { subject: bySubject, cause: byRule } = why.by;
    suppressed.push({ key, ruleId, subject, atMs: nowMs, byRule, bySubject, reason: why.reason });
    return { ...found, suppressedBecause: why.reason };
  });
  if (options.everything) {
    for (const before of leftBehind(alerts, judged)) {
      const step = stepAlert(before, goneTick(nowMs));
      effects.push(...step.effects);
      keep(next, changed, before, step.alert);
    }
  }
  return { alerts: next, evaluations, effects, suppressed, changed };
}

/** A finding is about its thing as it stands now: a sensor may have gone to another nuc since it was silent last. */
function whereItIsNow(alert: AlertState, { subject, evaluation }: RuleEvaluation): AlertState {
  const moved = evaluation.verdict === 'yes' && JSON.stringify(alert.subject) !== JSON.stringify(subject);
  return moved ? { ...alert, subject } : alert;
}

/** Nothing that a quiet alert would take a step for. */
const findsNothing = ({ verdict }: Evaluation): boolean => verdict === 'no' || verdict === 'not-applicable';

/** Raised and over a short while ago, and no more pressing now: it comes and goes. */
function toldLately(before: AlertState, rule: Rule, urgency: Urgency, nowMs: number): Explained | null {
  const { at, subject } = before;
  if (rule.quietMin === undefined || at.phase !== 'cleared') return null;
  const { episode, clearedAtMs } = at;
  if (nowMs - (episode.cameAtMs ?? clearedAtMs) >= rule.quietMin * 60_000) return null;
  if (urgencies.indexOf(urgency) < urgencies.indexOf(episode.urgency)) return null;
  const by = { cause: rule.id, subject, endedAtMs: clearedAtMs, settled: true };
  return { by, reason: 'the alert came some hours ago, and it is no worse' };
}

/** What was foreseen has come, and the alert of this rule about the same nuc tells it by now. */
function overtakenBy(
  { verdict, message }: Evaluation,
  alerts: Alerts,
  { ruleId, subject }: RuleEvaluation,
): string | undefined {
  if (verdict !== 'no' || message === undefined) return undefined;
  return explanations.find(({ cause, explains }) => {
    const other = explains.some((id) => id === ruleId) ? alerts.get(alertKey(cause, subject)) : undefined;
    return other !== undefined && isOpen(other);
  })?.cause;
}

/** Alerts that nobody found at: their nuc or sensor was taken away, or their rule is no more. */
function leftBehind(alerts: Alerts, judged: readonly Judged[]): AlertState[] {
  const seen = new Set(judged.map(({ found }) => found.key));
  return [...alerts.values()].filter(({ key }) => !seen.has(key));
}

const goneTick = (nowMs: number): Tick => ({
  type: 'tick',
  nowMs,
  verdict: 'not-applicable',
  clear: true,
  holdMs: 0,
  clearHoldMs: 0,
  closedStandsMs: 0,
  urgency: 'next-visit',
});

function evaluateInput(input: RuleInput, nowMs: number, options: EvaluateOptions): Judged[] {
  const subject = subjectOf(input);
  const settings = options.limits ?? noLimitSettings;
  return rulesByKind(options.rules ?? allRules)[input.on].map((rule) => {
    const limits = limitsFor(rule, subject, settings);
    const found = {
      key: alertKey(rule.id, subject),
      ruleId: rule.id,
      subject,
      atMs: nowMs,
      evaluation: evaluateRule(rule, input, limits),
      holdMs: (limits['holdMin'] ?? rule.holdMin) * 60_000,
      clearHoldMs: (limits['clearHoldMin'] ?? rule.clearHoldMin) * 60_000,
    };
    return { rule, found };
  });
}

/** What a channel explains depends on the place where it stands. */
function subjectOf(input: RuleInput): Subject {
  const place = input.on === 'channel' ? input.channel.place : null;
  return place === null ? input.subject : { place, ...input.subject };
}

function evaluateRule(rule: Rule, input: RuleInput, limits: LimitValues): Evaluation {
  if (limits['on'] === 0) {
    return { verdict: 'not-applicable', clear: true, conditions: [], because: 'switched off in the limits' };
  }
  return rule.evaluate(input, limits);
}

const groups = new WeakMap<readonly Rule[], Record<SubjectKind, readonly Rule[]>>();

function rulesByKind(rules: readonly Rule[]): Record<SubjectKind, readonly Rule[]> {
  const known = groups.get(rules);
  if (known) return known;
  const on = (kind: SubjectKind) => rules.filter((rule) => rule.on === kind);
  const made = {
    nuc: on('nuc'),
    site: on('site'),
    device: on('device'),
    channel: on('channel'),
    server: on('server'),
  };
  groups.set(rules, made);
  return made;
}

/** What stands already, what is true at this tick, and the visits of the last hour. */
function activeCauses(
  inputs: readonly RuleInput[],
  judged: readonly Judged[],
  alerts: Alerts,
): ActiveCause[] {
  const causes: ActiveCause[] = [];
  for (const alert of alerts.values()) {
    const cause = causeOf(alert);
    if (cause) causes.push(cause);
  }
  for (const { found } of judged) {
    const { ruleId, subject, evaluation } = found;
    if (evaluation.verdict === 'yes')
      causes.push({ cause: ruleId, subject, endedAtMs: null, settled: false });
  }
  const visited = inputs.filter(
    (input): input is NucInput => input.on === 'nuc' && input.lastVisitAtMs !== null,
  );
  for (const { subject, lastVisitAtMs } of visited) {
    causes.push({ cause: visitLogged, subject, endedAtMs: lastVisitAtMs, settled: true });
  }
  return causes;
}

function tickOf(rule: Rule, found: RuleEvaluation, verdict: Tick['verdict'], options: EvaluateOptions): Tick {
  const { evaluation, atMs, holdMs, clearHoldMs } = found;
  const urgency = evaluation.urgency ?? rule.urgency;
  return {
    type: 'tick',
    nowMs: atMs,
    verdict,
    clear: evaluation.clear,
    holdMs,
    clearHoldMs,
    closedStandsMs: (options.closedStandsMs ?? standardClosedStandsMs)[urgency],
    urgency,
    ...(evaluation.message && { message: evaluation.message }),
    ...(evaluation.evidence && { evidence: evaluation.evidence }),
  };
}

/** Quiet alerts are not kept: there is nothing to remember about them. */
function keep(
  next: Map<string, AlertState>,
  changed: AlertState[],
  before: AlertState,
  after: AlertState,
): void {
  if (after === before) return;
  changed.push(after);
  if (after.at.phase === 'quiet') next.delete(after.key);
  else next.set(after.key, after);
}

/** A keeper's act on the alert with this episode id; null where there is none. */
export function actOnAlert(
  alerts: Alerts,
  key: string,
  act: Act,
): { alerts: Alerts; effects: readonly Effect[] } | null {
  const alert = alerts.get(key);
  if (!alert) return null;
  const step = stepAlert(alert, act);
  return { alerts: new Map(alerts).set(key, step.alert), effects: step.effects };
}
