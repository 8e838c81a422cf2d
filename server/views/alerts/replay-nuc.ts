/** Replays the rules over a nuc's stored history, with other limits if wanted, beside what was really raised. */
import type { ParsedBodyOf, ResponseOf } from '../../contract/index.ts';
import { farmSetting, farmSettings, unavailableDays } from '../../farm/settings.ts';
import { UserError } from '../../user-error.ts';
import { iso, isoOrNull, msOf } from '../../farm/wire.ts';
import { episodeOf, isOpen, type Episode } from '../../rules/engine/alert-state.ts';
import type { LimitChoices, LimitSettings } from '../../rules/engine/limits.ts';
import { compareRaisings, replay, type Raising } from '../../rules/engine/replay.ts';
import type { Rule } from '../../rules/engine/rule.ts';
import { nucsOf } from '../../rules/engine/suppression.ts';
import type { Subject } from '../../rules/engine/types.ts';
import type { Hive } from '../../store/places/hives.ts';
import type { Store } from '../../store/store.ts';
import type { AlertBook } from '../../watch/alert-book.ts';
import type { FarmChoices } from '../../watch/nuc-analysis.ts';
import { knownNights } from '../../forecast/known.ts';
import { nucContext } from '../../watch/nuc-context.ts';
import { pastNuc } from '../../watch/past-nuc.ts';
import { PastBatches } from '../../watch/past-batch.ts';
import { pastSensors } from '../../watch/past-sensors.ts';
import { nucInput } from '../../watch/rule-inputs.ts';
import { titleOf } from './alert-view.ts';
import { limitsKey, readLimits } from '../../rules/engine/stored-limits.ts';
import { dayMs, minuteMs } from '../../durations.ts';

const longestForPageMs = 62 * dayMs;
/** A raising is the same as one that really was where it comes no further from it, ms. */
const slackMs = 60 * 60_000;

type Answer = ResponseOf<'replay'>;

export interface ReplayDeps {
  readonly store: Store;
  /** What was really raised. */
  readonly book: Pick<AlertBook, 'alerts' | 'endedAbout'>;
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
  const { raisings, instants } = raisingsOf(store, nuc, batches, { fromMs, toMs }, input.limits, rules);
  const real = reallyRaised(book, nuc.id, fromMs, toMs).filter(
    ({ ruleId }) => rules?.some(({ id }) => id === ruleId) ?? true,
  );
  const { both, onlyReplayed, onlyReal } = compareRaisings(raisings, real, slackMs);
  return {
    ticks: instants,
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

/** What the rules raise over the span, at the farm's step and where something is known to change. */
function raisingsOf(
  store: Store,
  nuc: Hive,
  batches: PastBatches,
  { fromMs, toMs }: { readonly fromMs: number; readonly toMs: number },
  asked: LimitChoices,
  rules: readonly Rule[] | undefined,
): ReturnType<typeof replay> {
  const context = nucContext(store, nuc);
  const choices: FarmChoices = {
    chanceLimit: farmSetting(store.settings, 'standingCellLimit'),
    unavailableDates: unavailableDays(store.settings),
    units: farmSettings(store.settings).display,
  };
  const analysisAt = pastNuc(store, context, {
    fromMs,
    toMs,
    choices,
    forecastAt: knownNights(store.forecasts, context.site, toMs),
    logAsWritten: true,
  });
  const stepMs = farmSettings(store.settings).historyStepMinutes * minuteMs;
  const limits = withAsked(readLimits(store.settings.get(limitsKey)).limits, nuc.id, asked);
  const sensors = pastSensors(store, nuc, { fromMs, toMs, limits });
  const asksNuc = rules?.some(({ on }) => on === 'nuc') ?? true;
  const standingAt = batches.of(nuc, { fromMs, toMs });
  const writtenMs = context.log.map(({ writtenAtMs }) => writtenAtMs).sort((a, b) => a - b);
  return replay({
    fromMs,
    toMs,
    stepMs,
    limits,
    ...(rules && { rules }),
    // A sensor that was taken away is no longer spoken of.
    everything: true,
    inputsAt: (nowMs) => {
      const { inputs, healths } = sensors.at(nowMs);
      return asksNuc ? [nucInput(analysisAt(nowMs), healths, standingAt(nowMs), nowMs), ...inputs] : inputs;
    },
    nextEventMs: (afterMs) =>
      Math.min(sensors.nextEventMs(afterMs), writtenMs.find((atMs) => atMs > afterMs) ?? Infinity),
  });
}

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
  const ended = book
    .endedAbout(nucId, fromMs)
    .map(({ ruleId, subject, episode, endedAtMs }) => raisingOf(ruleId, subject, episode, endedAtMs));
  // What is over stays in the book for a while, and is among the ended already.
  const open = [...book.alerts.values()].filter(isOpen).flatMap((alert) => {
    const episode = episodeOf(alert);
    return episode ? [raisingOf(alert.ruleId, alert.subject, episode, null)] : [];
  });
  return [...ended, ...open].filter(
    ({ subject, raisedAtMs, endedAtMs }) =>
      nucsOf(subject).includes(nucId) && (endedAtMs ?? Infinity) >= fromMs && raisedAtMs <= toMs,
  );
}

const raisingOf = (
  ruleId: string,
  subject: Subject,
  { urgency, raisedAtMs }: Episode,
  endedAtMs: number | null,
): Raising => ({ ruleId, subject, urgency, raisedAtMs, endedAtMs });
