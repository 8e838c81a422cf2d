/** Replays the rules over a nuc's stored history, with other limits if wanted, beside what was really raised. */
import type { ParsedBodyOf, ResponseOf } from '../http/contract/index.ts';
import { Refusal } from '../http/problem.ts';
import { iso, isoOrNull, msOf } from '../http/wire.ts';
import { episodeOf } from '../rules/alert-state.ts';
import { noLimitSettings } from '../rules/limits.ts';
import { compareRaisings, replay, type Raising } from '../rules/replay.ts';
import type { Rule } from '../rules/rule.ts';
import { newAnalysisCache } from '../signals/analyse.ts';
import type { Store } from '../store/store.ts';
import type { AlertBook } from './alert-book.ts';
import { fold, judge, signalsOf } from './nuc-analysis.ts';
import { nucContext } from './nuc-context.ts';
import { readNucSeries } from './nuc-series.ts';
import { nucInput } from './rule-inputs.ts';
import { titleOf } from './views/alert-view.ts';

const dayMs = 86_400_000;
/** Fine enough for holds of half an hour, and a month in seconds. */
const tickMs = 10 * 60_000;
const longestMs = 62 * dayMs;
const slackMs = 60 * 60_000;

type Answer = ResponseOf<'replay'>;

export interface ReplayDeps {
  readonly store: Store;
  /** What was really raised. */
  readonly book: Pick<AlertBook, 'alerts' | 'ended'>;
}

/** As asked by a page: a span that a server answers in seconds while it does its work. */
export function replayForPage(deps: ReplayDeps, input: ParsedBodyOf<'replay'>): Answer | undefined {
  if (msOf(input.to) - msOf(input.from) > longestMs)
    throw new Refusal(400, 'Choose a span of at most two months whose end lies after its beginning.');
  return replayNuc(deps, input);
}

/** `rules`: those to run, all where absent. Undefined where there is no such nuc. */
export function replayNuc(
  { store, book }: ReplayDeps,
  input: ParsedBodyOf<'replay'>,
  rules?: readonly Rule[],
): Answer | undefined {
  const nuc = store.places.hive(input.nucId);
  if (nuc?.role !== 'nuc') return undefined;
  const fromMs = msOf(input.from);
  const toMs = msOf(input.to);
  if (toMs <= fromMs) throw new Refusal(400, 'Choose a span whose end lies after its beginning.');
  const context = nucContext(store, nuc);
  const whole = readNucSeries(store, nuc, fromMs - 14 * dayMs, toMs);
  const cache = newAnalysisCache();
  let lookedUntilMs = -Infinity;
  const { raisings, ticks } = replay({
    fromMs,
    toMs,
    tickMs,
    limits: { ...noLimitSettings, farm: input.limits },
    ...(rules && { rules }),
    inputsAt: (nowMs) => {
      const state = fold(context, nowMs);
      const changed = lookedUntilMs === -Infinity ? {} : { changedFromMs: lookedUntilMs };
      const signals = signalsOf(context, state, whole, nowMs, { cache, ...changed });
      lookedUntilMs = nowMs;
      return [
        nucInput(
          judge(context, state, signals, nowMs, { chanceLimit: 0.05, unavailableDates: [] }),
          [],
          null,
          nowMs,
        ),
      ];
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
    onlyReally: onlyReal.map(({ ruleId, raisedAtMs }) => ({ ruleId, raisedAt: iso(raisedAtMs) })),
  };
}

const toWire = (
  { ruleId, raisedAtMs, endedAtMs, urgency }: Raising,
  reallyRaised: boolean,
): Answer['items'][number] => ({
  ruleId,
  title: titleOf(ruleId),
  raisedAt: iso(raisedAtMs),
  clearedAt: isoOrNull(endedAtMs),
  reallyRaised,
  text: `${urgency.replace('-', ' ')}${reallyRaised ? ', and it was raised' : ''}`,
});

function reallyRaised(book: ReplayDeps['book'], nucId: string, fromMs: number, toMs: number): Raising[] {
  const ended = book.ended(fromMs, 1000).map(({ ruleId, subject, episode, endedAtMs }) => ({
    ruleId,
    subject,
    urgency: episode.urgency,
    raisedAtMs: episode.raisedAtMs,
    endedAtMs,
  }));
  const open = [...book.alerts.values()].flatMap((alert) => {
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
    ({ subject, raisedAtMs }) =>
      subject.kind === 'nuc' && subject.id === nucId && raisedAtMs >= fromMs && raisedAtMs <= toMs,
  );
}
