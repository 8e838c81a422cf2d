/** An alert on the wire: in the order in which a keeper reads it, with the readings that it rests on. */
import { nucsOf } from '../../rules/engine/suppression.ts';
import {
  episodeOf,
  livePhase,
  nextChangeAtMs,
  type AlertState,
  type Episode,
  type EffectKind,
} from '../../rules/engine/alert-state.ts';
import type { RuleEvaluation, Suppressed } from '../../rules/engine/evaluate.ts';
import { inWords, type Display } from '../../words/phrase.ts';
import { rules } from '../../rules/catalogue/registry.ts';
import type { AlertMessage, Evidence, Subject, Urgency } from '../../rules/engine/types.ts';
import type { AlertDto } from '../../contract/alerts.ts';
import type { EndedAlert } from '../../watch/alert-book.ts';
import { helpToBring } from './help-to-bring.ts';
import { iso, isoOrNull } from '../../farm/wire.ts';

export interface AlertReader {
  readonly displayOf: (subject: Subject) => Display;
  readonly evidence: (subject: Subject, evidence: Evidence | undefined) => AlertDto['evidence'];
  /** What this alert explains at the moment and keeps quiet. */
  readonly explains: (alert: AlertState) => readonly Suppressed[];
  /** The open alert that explains this one at the moment. */
  readonly explainedBy: (alert: AlertState) => Episode | null;
  /** The rule's last evaluation, for what it says this minute and for the holds in force. */
  readonly evaluationOf: (key: string) => RuleEvaluation | undefined;
}

export const titleOf = (ruleId: string): string => rules.find(({ id }) => id === ruleId)?.title ?? ruleId;

/** What an alert says this minute; as it was last told where its rule finds nothing any more. */
export const messageNow = (
  episode: Episode | null,
  evaluation: RuleEvaluation | undefined,
): AlertMessage | undefined => evaluation?.evaluation.message ?? episode?.message;

export function alertToWire(alert: AlertState, reader: AlertReader): AlertDto | undefined {
  const episode = episodeOf(alert);
  const evaluation = reader.evaluationOf(alert.key);
  const live = livePhase(alert);
  const message = live.phase === 'cleared' ? live.episode.message : messageNow(episode, evaluation);
  if (!message) return undefined;
  // As far as the words go: of this minute where they are.
  const now = message === evaluation?.evaluation.message ? evaluation.evaluation.evidence : undefined;
  const evidence = now ?? episode?.evidence;
  const since = episode?.sinceMs ?? ('sinceMs' in live ? live.sinceMs : null);
  if (since === null) return undefined;
  const rule = rules.find(({ id }) => id === alert.ruleId);
  const hold = evaluation?.holdMs ?? (rule?.holdMin ?? 0) * 60_000;
  const clearHold = evaluation?.clearHoldMs ?? (rule?.clearHoldMin ?? 0) * 60_000;
  return {
    ...common(alert.ruleId, alert.subject, message, reader),
    id: episode?.id ?? alert.key,
    urgency: episode?.urgency ?? evaluation?.evaluation.urgency ?? rule?.urgency ?? 'next-visit',
    phase: phaseOf(alert, episode),
    since: iso(since),
    raisedAt: isoOrNull(episode?.raisedAtMs),
    clearedAt: live.phase === 'cleared' ? iso(live.clearedAtMs) : null,
    nextChangeAt: isoOrNull(nextChangeAtMs(alert, hold, clearHold)),
    ...people(episode),
    evidence: episode ? reader.evidence(alert.subject, evidence) : null,
    explains: reader
      .explains(alert)
      .map((one) => `${titleOf(one.ruleId)}, ${one.subject.name}: ${one.reason}`),
    explainedBy: reader.explainedBy(alert)?.id ?? null,
    history: history(episode),
  };
}

/** An alert that is over: as it was last told. */
export function endedToWire(
  { ruleId, subject, episode, endedAtMs }: EndedAlert,
  reader: AlertReader,
): AlertDto {
  const closed = episode.marks.at(-1)?.what === 'closed';
  return {
    ...common(ruleId, subject, episode.message, reader),
    id: episode.id,
    urgency: episode.urgency,
    phase: closed ? 'closed' : 'cleared',
    since: iso(episode.sinceMs),
    raisedAt: iso(episode.raisedAtMs),
    clearedAt: iso(endedAtMs),
    nextChangeAt: null,
    ...people(episode),
    evidence: reader.evidence(subject, episode.evidence),
    explains: [],
    explainedBy: null,
    history: history(episode),
  };
}

function common(ruleId: string, subject: Subject, message: AlertMessage, reader: AlertReader) {
  const display = reader.displayOf(subject);
  const { todo, byMs, seen, why, howSure, settleBy } = message;
  return {
    ruleId,
    title: titleOf(ruleId),
    subject: { kind: subject.kind, id: subject.id, name: subject.name, nucIds: [...nucsOf(subject)] },
    ...(subject.siteId === undefined ? {} : { siteId: subject.siteId }),
    ...(subject.siteName === undefined ? {} : { siteName: subject.siteName }),
    todo: inWords(todo, display),
    ...(byMs === undefined ? {} : { by: iso(byMs) }),
    seen: inWords(seen, display),
    why: inWords(why, display),
    howSure: inWords(howSure, display),
    ...(settleBy === undefined ? {} : { settledBy: inWords(settleBy, display) }),
    bring: helpToBring(ruleId),
  };
}

function phaseOf(alert: AlertState, episode: Episode | null): AlertDto['phase'] {
  if (alert.at.phase === 'no-data') return 'no-data';
  const { phase } = alert.at;
  if (phase === 'raised' && episode?.putOffUntilMs != null) return 'put-off';
  return phase === 'quiet' ? 'cleared' : phase;
}

function people(episode: Episode | null): Pick<AlertDto, 'seenBy' | 'putOffUntil' | 'found'> {
  const seen = episode?.seen ?? null;
  const closed = episode?.marks.findLast((mark) => mark.what === 'closed');
  return {
    seenBy: seen && {
      by: seen.by,
      at: iso(seen.atMs),
      ...(seen.note === undefined ? {} : { note: seen.note }),
    },
    putOffUntil: isoOrNull(episode?.putOffUntilMs),
    found: closed?.text ?? null,
  };
}

const markWords: Readonly<Record<EffectKind, string>> = {
  raised: 'raised',
  worsened: 'became more urgent',
  cleared: 'over',
  'no-longer-applies': 'no longer applies',
  seen: 'seen',
  'put-off': 'put off',
  'put-off-over': 'came back after being put off',
  closed: 'closed',
  're-opened': 're-opened',
  'still-so': 'closed, and still so',
};

const history = (episode: Episode | null): AlertDto['history'] =>
  (episode?.marks ?? []).map(({ atMs, what, by, text }) => ({
    at: iso(atMs),
    text: [markWords[what], by === undefined ? '' : `by ${by}`, text === undefined ? '' : `“${text}”`]
      .filter(Boolean)
      .join(' '),
  }));

export const urgencyOrder: Readonly<Record<Urgency, number>> = { now: 0, today: 1, 'next-visit': 2 };

/** Most urgent first, then the newest; of one instant always in the same order. */
export const byUrgency = (a: AlertDto, b: AlertDto): number =>
  urgencyOrder[a.urgency] - urgencyOrder[b.urgency] ||
  Date.parse(b.raisedAt ?? b.since) - Date.parse(a.raisedAt ?? a.since) ||
  (a.id < b.id ? -1 : Number(a.id > b.id));
