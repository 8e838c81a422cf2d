/** Sets alerts for whoever reads them: the site's clock, the farm's units, and the readings that they rest on. */
import { farmSettings } from '../../farm/settings.ts';
import type { AlertDto } from '../../contract/alerts.ts';
import { episodeOf, isOpen, type Episode } from '../../rules/engine/alert-state.ts';
import { inWords, type Display } from '../../words/phrase.ts';
import { nucOf, nucsOf } from '../../rules/engine/suppression.ts';
import type { Evidence, Subject } from '../../rules/engine/types.ts';
import type { PlainSeries } from '../../store/readings/readings.ts';
import type { ViewDeps } from '../view-deps.ts';
import { placeSeries } from '../../watch/nuc-series.ts';
import { messageNow, titleOf, type AlertReader } from './alert-view.ts';
import { partOf } from './part-of.ts';
import { rounded } from '../rounded.ts';
import type { EndedAlert } from '../../watch/alert-book.ts';
import { dayMs } from '../../durations.ts';

export type NucAlert = RailAlertWithHeadline;
interface RailAlertWithHeadline {
  readonly id: string;
  readonly ruleId: string;
  readonly fromMs: number;
  readonly toMs: number | null;
  readonly urgency: Episode['urgency'];
  /** Short: it stands on a rail beside the days. */
  readonly text: string;
  readonly headline: string;
  readonly open: boolean;
}

/** A small chart needs no more. */
const evidencePoints = 120;

export function alertReader(deps: ViewDeps, nowMs: number): AlertReader {
  const { watch } = deps;
  const evaluations = watch.latestEvaluations();
  const { alerts } = watch.book;
  const isTold = (key: string): boolean => {
    const alert = alerts.get(key);
    return alert !== undefined && isOpen(alert);
  };
  return {
    displayOf: (subject) => displayOf(deps, subject, nowMs),
    evidence: (subject, evidence) => evidenceOf(deps, subject, evidence, nowMs),
    explains: (alert) =>
      watch
        .suppressed()
        .filter(
          (one) =>
            !isTold(one.key) &&
            one.byRule === alert.ruleId &&
            one.bySubject.kind === alert.subject.kind &&
            one.bySubject.id === alert.subject.id,
        ),
    explainedBy: partOf(alerts, nowMs),
    evaluationOf: (key) => evaluations.get(key),
  };
}

export function displayOf(
  { store, watch, timeZone }: NucAlertDeps,
  subject: Pick<Subject, 'siteId'>,
  nowMs: number,
): Display {
  const site = watch.where(nowMs).sites.find(({ id }) => id === subject.siteId);
  return { ...farmSettings(store.settings).display, timeZone: site?.timeZone ?? timeZone() };
}

function evidenceOf(
  { store, watch }: ViewDeps,
  subject: Subject,
  evidence: Evidence | undefined,
  nowMs: number,
): AlertDto['evidence'] {
  if (!evidence) return null;
  const { place, channelId, fromMs, limit } = evidence;
  const toMs = Math.min(nowMs, evidence.toMs + 6 * 3_600_000);
  const channel = channelId === undefined ? undefined : store.channels.get(channelId);
  const nuc = watch.where(nowMs).nucs.find(({ id }) => id === nucOf(subject));
  const position =
    place ??
    (channelId === undefined ? undefined : watch.where(nowMs).ofChannel.get(channelId)?.assignment.position);
  if (position === undefined) return null;
  const series = channel
    ? store.readings.series(channel.id, fromMs, toMs)
    : nuc && placeSeries(store, nuc, position, fromMs, toMs);
  if (!series || series.atMs.length === 0) return null;
  const unit = channel?.unit ?? (position === 'scale' ? 'kg' : 'Cel');
  return { place: position, unit, points: thinned(series), ...(limit === undefined ? {} : { limit }) };
}

function thinned({ atMs, value }: PlainSeries): [number, number][] {
  const every = Math.max(1, Math.ceil(atMs.length / evidencePoints));
  const points: [number, number][] = [];
  for (let i = (atMs.length - 1) % every; i < atMs.length; i += every)
    points.push([atMs[i] ?? 0, rounded(value[i] ?? 0, 3)]);
  return points;
}

/** What the alerts of a nuc are read from. */
export interface NucAlertDeps extends Pick<ViewDeps, 'store' | 'timeZone'> {
  readonly watch: Pick<ViewDeps['watch'], 'latestEvaluations' | 'where'> & {
    readonly book: Pick<ViewDeps['watch']['book'], 'alerts' | 'endedAbout'>;
  };
}

/** As far back as a rail and its charts show what is over. */
const endedShownMs = 60 * dayMs;

/** Alerts of all nucs that are over, by nuc: read once for a page that shows every nuc. */
export function endedByNuc(
  { watch }: Pick<ViewDeps, 'watch'>,
  nowMs: number,
): ReadonlyMap<string, readonly EndedAlert[]> {
  const byNuc = new Map<string, EndedAlert[]>();
  for (const alert of watch.book.ended(nowMs - endedShownMs)) {
    for (const nucId of nucsOf(alert.subject)) {
      const its = byNuc.get(nucId);
      if (its) its.push(alert);
      else byNuc.set(nucId, [alert]);
    }
  }
  return byNuc;
}

/** Alerts about one nuc and its sensors, for its rail and its charts. `ended`: those that are over, where they are read. */
export function nucAlerts(
  deps: NucAlertDeps,
  nucId: string,
  nowMs: number,
  ended: readonly EndedAlert[] = deps.watch.book.endedAbout(nucId, nowMs - endedShownMs),
): NucAlert[] {
  const { book } = deps.watch;
  const evaluations = deps.watch.latestEvaluations();
  const current = [...book.alerts.values()].flatMap((alert) => {
    const episode = episodeOf(alert);
    if (!episode || !isOpen(alert) || !nucsOf(alert.subject).includes(nucId)) return [];
    const message = messageNow(episode, evaluations.get(alert.key)) ?? episode.message;
    return [{ ...alert, episode: { ...episode, message }, endedAtMs: null }];
  });
  return [...current, ...ended].map(({ ruleId, subject, episode, endedAtMs }) => ({
    id: episode.id,
    ruleId,
    fromMs: episode.sinceMs,
    toMs: endedAtMs,
    urgency: episode.urgency,
    text: titleOf(ruleId),
    headline: inWords(episode.message.todo, displayOf(deps, subject, nowMs)),
    open: endedAtMs === null,
  }));
}
