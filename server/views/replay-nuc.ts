/** Replays the rules over a nuc's stored history, with other limits if wanted, beside what was really raised. */
import type { ParsedBodyOf, ResponseOf } from '../contract/index.ts';
import { farmSetting, farmSettings, unavailableDays } from '../farm/settings.ts';
import { UserError } from '../user-error.ts';
import { iso, isoOrNull, msOf } from '../farm/wire.ts';
import { episodeOf, isOpen } from '../rules/engine/alert-state.ts';
import { limitsFor, type LimitChoices, type LimitSettings } from '../rules/engine/limits.ts';
import type { RuleInput } from '../rules/engine/inputs.ts';
import { compareRaisings, replay, type Raising } from '../rules/engine/replay.ts';
import type { Rule } from '../rules/engine/rule.ts';
import { visitLogged } from '../rules/catalogue/explanations.ts';
import { explainedBy, nucsOf } from '../rules/engine/suppression.ts';
import type { Subject } from '../rules/engine/types.ts';
import { unlikeItsBatch } from '../rules/catalogue/queen/unlike-its-batch.ts';
import type { Store } from '../store/store.ts';
import type { AlertBook } from '../watch/alert-book.ts';
import {
  atRest,
  nextReadingMs,
  restLimits,
  stepsToldMs,
  toldByNight,
  toldByStep,
  toldByWarmth,
  weightIsSteady,
} from '../watch/at-rest.ts';
import type { FarmChoices } from '../watch/nuc-analysis.ts';
import { knownNights } from '../forecast/known.ts';
import { nucContext } from '../watch/nuc-context.ts';
import { pastNuc } from '../watch/past-nuc.ts';
import { PastBatches } from '../watch/past-batch.ts';
import { pastSensors } from '../watch/past-sensors.ts';
import { nucInput } from '../watch/rule-inputs.ts';
import { titleOf } from './alert-view.ts';
import { limitsKey, readLimits } from '../rules/stored-limits.ts';

const dayMs = 86_400_000;
const minuteMs = 60_000;
/** As often as the rules look live. */
const tickMs = minuteMs;
/** No hold of a finding about a nuc that comes and goes within hours is shorter. */
const shortestMs = 10 * minuteMs;
const longestMs = 240 * minuteMs;
/** Where nothing hangs on the weather of the hour. */
const longestInCalmMs = 6 * longestMs;
/** A chance of a chill tonight that no hour's weather makes one that is told. */
const littleChance = 0.01;
const longestForPageMs = 62 * dayMs;
const slackMs = 60 * 60_000;

type Answer = ResponseOf<'replay'>;

export interface ReplayDeps {
  readonly store: Store;
  /** What was really raised. */
  readonly book: Pick<AlertBook, 'alerts' | 'ended'>;
  /** Shared by the replays of one batch; made anew where absent. */
  readonly batches?: PastBatches;
}

/** As asked by a page: a span that a server answers in seconds while it does its work. */
export function replayForPage(deps: ReplayDeps, input: ParsedBodyOf<'replay'>): Answer | undefined {
  if (msOf(input.to) - msOf(input.from) > longestForPageMs)
    throw new UserError(
      'invalid-input',
      'Choose a span of at most two months whose end lies after its beginning.',
    );
  return replayNuc(deps, input);
}

/** `rules`: those to run, all where absent. Undefined where there is no such nuc. */
export function replayNuc(
  { store, book, batches = new PastBatches(store) }: ReplayDeps,
  input: ParsedBodyOf<'replay'>,
  rules?: readonly Rule[],
): Answer | undefined {
  const nuc = store.places.hive(input.nucId);
  if (nuc?.role !== 'nuc') return undefined;
  const fromMs = msOf(input.from);
  const toMs = msOf(input.to);
  if (toMs <= fromMs)
    throw new UserError('invalid-input', 'Choose a span whose end lies after its beginning.');
  const context = nucContext(store, nuc);
  const choices: FarmChoices = {
    chanceLimit: farmSetting(store.settings, 'standingCellLimit'),
    unavailableDates: unavailableDays(store.settings),
    units: farmSettings(store.settings).display,
  };
  const past = pastNuc(store, context, {
    fromMs,
    toMs,
    choices,
    forecastAt: knownNights(store.forecasts, context.site, toMs),
    asWatchedEveryMs: tickMs,
  });
  const limits = withAsked(readLimits(store.settings.get(limitsKey)).limits, nuc.id, input.limits);
  const subject = { kind: 'nuc', id: nuc.id, name: nuc.name, siteId: nuc.siteId } as const;
  const { rest, restInCalm } = restLimits((rule) => limitsFor(rule, subject, limits));
  const sensors = pastSensors(store, nuc, { fromMs, toMs, tickMs, limits, ...(rules && { rules }) });
  const standing = rules?.includes(unlikeItsBatch) === false ? null : batches.of(nuc, { fromMs, toMs });
  const sensorTurns = new Set(sensors.turnsMs);
  const { raisings, ticks } = replay({
    fromMs,
    toMs,
    tickMs,
    limits,
    ...(rules && { rules }),
    // A sensor that was taken away is no longer spoken of.
    everything: true,
    inputsAt: (nowMs) => {
      const { inputs, healths } = sensors.at(nowMs);
      return [nucInput(past.analysisAt(nowMs), healths, standing?.at(nowMs) ?? null, nowMs), ...inputs];
    },
    leaps: {
      isCalm: (seen) => seen.every(isCalm),
      longestMs,
      longestInCalmMs,
      shortestMs,
      nextReadMs: (nowMs) => nextReadingMs(past.series, nowMs),
      atRest: (restFromMs, restToMs, calm) =>
        atRest(past.series, restFromMs, restToMs, calm ? restInCalm : rest),
      toldBy: (restFromMs, restToMs) =>
        weightIsSteady(past.series, restFromMs, restToMs, rest) ? toldByWarmth : undefined,
      toldByCalm: { ruleIds: toldByNight, everyMs: Math.max(tickMs, rest.nightHoldMs) },
      asked: [
        ...stepsToldMs(past.series, rest).map((atMs) => ({ atMs, ruleIds: toldByStep })),
        ...context.log.map(({ writtenAtMs }) => ({ atMs: writtenAtMs - tickMs, ruleIds: hiddenByVisit })),
      ],
      stopsMs: [
        ...context.log.map(({ writtenAtMs }) => writtenAtMs),
        ...sensors.turnsMs,
        ...(standing?.turnsMs ?? []),
      ].sort((a, b) => a - b),
      turnsAt: (atMs, { ruleId, subject: { kind } }) =>
        ruleId === unlikeItsBatch.id
          ? standing?.turnsMs.includes(atMs) === true
          : kind !== 'nuc' && sensorTurns.has(atMs),
    },
  });
  const real = reallyRaised(book, nuc.id, fromMs, toMs).filter(
    ({ ruleId }) => rules?.some(({ id }) => id === ruleId) ?? true,
  );
  const { both, onlyReplayed, onlyReal } = compareRaisings(raisings, real, slackMs);
  return {
    ticks,
    items: [
      ...both.map(({ replayed }) => toWire(replayed, true)),
      ...onlyReplayed.map((one) => toWire(one, false)),
    ].sort((a, b) => Date.parse(a.raisedAt) - Date.parse(b.raisedAt)),
    onlyReally: onlyReal
      .filter(({ raisedAtMs }) => raisedAtMs >= fromMs)
      .map(({ ruleId, subject, raisedAtMs }) => ({
        ruleId,
        subject: subjectToWire(subject),
        raisedAt: iso(raisedAtMs),
      })),
  };
}

/** What a visit explains is asked for just before it is logged: nothing would be seen of it later. */
const hiddenByVisit = explainedBy(new Set([visitLogged]));

/** Of all that rules see only the night ahead comes and goes within hours while the readings are at rest. */
const isCalm = (input: RuleInput): boolean =>
  input.on !== 'nuc' || (input.signals !== null && (input.signals.outlook.chanceBelow ?? 1) <= littleChance);

/** The limits that are set, but for those that the replay was asked to try. */
function withAsked(settings: LimitSettings, nucId: string, asked: LimitChoices): LimitSettings {
  const own: Record<string, Readonly<Record<string, number>>> = { ...settings.nucs[nucId] };
  for (const [ruleId, values] of Object.entries(asked)) own[ruleId] = { ...own[ruleId], ...values };
  return { ...settings, nucs: { ...settings.nucs, [nucId]: own } };
}

const subjectToWire = ({ kind, id, name }: Subject): Answer['items'][number]['subject'] => ({
  kind,
  id,
  name,
});

const toWire = (
  { ruleId, subject, raisedAtMs, endedAtMs, urgency }: Raising,
  reallyRaised: boolean,
): Answer['items'][number] => ({
  ruleId,
  subject: subjectToWire(subject),
  title: titleOf(ruleId),
  raisedAt: iso(raisedAtMs),
  clearedAt: isoOrNull(endedAtMs),
  reallyRaised,
  text: urgency.replace('-', ' '),
});

/** What stood at some time of the span, from before it as well: a replay finds anew what lasted. */
function reallyRaised(book: ReplayDeps['book'], nucId: string, fromMs: number, toMs: number): Raising[] {
  const ended = book.ended(fromMs, 1000).map(({ ruleId, subject, episode, endedAtMs }) => ({
    ruleId,
    subject,
    urgency: episode.urgency,
    raisedAtMs: episode.raisedAtMs,
    endedAtMs,
  }));
  // What is over stays in the book for a while, and is among the ended already.
  const open = [...book.alerts.values()].filter(isOpen).flatMap((alert) => {
    const episode = episodeOf(alert);
    return episode
      ? [
          {
            ruleId: alert.ruleId,
            subject: alert.subject,
            urgency: episode.urgency,
            raisedAtMs: episode.raisedAtMs,
            endedAtMs: null,
          },
        ]
      : [];
  });
  return [...ended, ...open].filter(
    ({ subject, raisedAtMs, endedAtMs }) =>
      nucsOf(subject).includes(nucId) && (endedAtMs ?? Infinity) >= fromMs && raisedAtMs <= toMs,
  );
}
