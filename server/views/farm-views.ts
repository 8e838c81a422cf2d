/** The HTTP layer's questions, answered from the watch. */
import { randomUUID } from 'node:crypto';
import { knownWarmest } from '../forecast/known.ts';
import { farmSettings, unavailableDays } from '../farm/settings.ts';
import { notFound, UserError } from '../user-error.ts';
import type { AlertDto } from '../contract/alerts.ts';
import type { ParsedQueryOf } from '../contract/index.ts';
import type { Views } from './views.ts';
import { msOf } from '../farm/wire.ts';
import type { Subject } from '../rules/engine/types.ts';
import type { Store } from '../store/store.ts';
import { actOf } from './alerts/alert-action.ts';
import { alertReader, displayOf, endedByNuc, nucAlerts } from './alerts/alert-reader.ts';
import { setFor, type Say } from '../words/phrase.ts';
import { limitsKey, readLimits } from '../rules/engine/stored-limits.ts';
import { createBatch, previewBatch } from '../farm/batch.ts';
import { changeIntroduction } from '../farm/change-introduction.ts';
import type { EndedAlert } from '../watch/alert-book.ts';
import { movedAtMs } from '../watch/known-events.ts';
import type { NucAnalysis } from '../watch/nuc-analysis.ts';
import { parentByHour } from '../watch/parent-around.ts';
import { forgetMissRates } from '../farm/inspection-miss-rate.ts';
import { outcomeFacts } from './batches/outcomes.ts';
import { replayForPage } from './alerts/replay-nuc.ts';
import { queenOf, summaryParts } from './nuc/summary-parts.ts';
import { alertToWire, byUrgency, endedToWire } from './alerts/alert-view.ts';
import { batchView } from './batches/batch-view.ts';
import { reviewedBatch } from './batches/reviewed-batch.ts';
import { nucChart } from './nuc/chart.ts';
import { evaluationsView } from './alerts/evaluations-view.ts';
import { limitsToWire, withLimit } from './alerts/limits-view.ts';
import { nucDetail } from './nuc/nuc-detail.ts';
import { nucSummary } from './nuc/nuc-summary.ts';
import { nextQueens } from './plan/queen-names.ts';
import { outcomesView } from './batches/outcomes-view.ts';
import { planView } from './plan/plan-view.ts';
import { queensView } from './plan/queens-view.ts';
import type { ViewDeps } from './view-deps.ts';
import { dayMs } from '../durations.ts';

const shownWithoutSpanMs = 14 * dayMs;
/** On the day of the split the readings of the hours before it are of use as well. */
const leastShownMs = dayMs;

export const farmViews = (deps: ViewDeps): Views => ({
  ...nucQuestions(deps),
  ...alertQuestions(deps),
  ...planQuestions(deps),
  ...reviewQuestions(deps),
  ...limitQuestions(deps),
  ...changes(deps),
});

const analysesOf = ({ watch }: ViewDeps, nowMs: number): NucAnalysis[] =>
  watch.where(nowMs).nucs.flatMap(({ id }) => watch.analysis(id, nowMs) ?? []);

function nucQuestions(deps: ViewDeps): Pick<Views, 'nucs' | 'nuc' | 'chart'> {
  const { store, watch } = deps;
  const parentAt = parentByHour(store);
  const inUnits = (siteId: string, nowMs: number): Say => setFor(displayOf(deps, { siteId }, nowMs));
  return {
    nucs(nowMs) {
      const analyses = analysesOf(deps, nowMs);
      const queens = nextQueens(store, analyses);
      const ended = endedByNuc(deps, nowMs);
      return analyses.map((analysis) => {
        const { id } = analysis.nuc;
        const alerts = nucAlerts(deps, id, nowMs, ended.get(id) ?? []);
        const parts = summaryParts(deps, analysis, { nextQueen: queens.get(id), alerts }, nowMs);
        return nucSummary(parts, inUnits(analysis.site.id, nowMs), nowMs);
      });
    },
    nuc(id, nowMs) {
      const analysis = watch.analysis(id, nowMs);
      if (!analysis) return undefined;
      const nextQueen = nextQueens(store, analysesOf(deps, nowMs)).get(id);
      const parts = summaryParts(deps, analysis, { nextQueen, alerts: nucAlerts(deps, id, nowMs) }, nowMs);
      const { parentHiveId } = analysis.nuc;
      const moveMs = movedAtMs(analysis.state?.facts ?? []);
      const parent =
        parentHiveId === undefined || moveMs === undefined
          ? undefined
          : parentAt(parentHiveId, moveMs, nowMs);
      return nucDetail(parts, parent, inUnits(analysis.site.id, nowMs), nowMs);
    },
    chart(id, query, nowMs) {
      const analysis = watch.analysis(id, nowMs);
      if (!analysis) return undefined;
      const toMs = query.to === undefined ? nowMs : msOf(query.to);
      const day0Ms = analysis.state?.day0Ms ?? null;
      const usualMs = Math.min(day0Ms ?? toMs - shownWithoutSpanMs, toMs - leastShownMs);
      const fromMs = query.from === undefined ? usualMs : msOf(query.from);
      if (fromMs >= toMs)
        throw new UserError('invalid-input', 'The chart’s "from" must lie before its "to".');
      return nucChart(
        store,
        analysis,
        { fromMs, toMs, pixels: query.pixels, suspect: query.suspect },
        nucAlerts(deps, id, nowMs),
        inUnits(analysis.site.id, nowMs),
        nowMs,
      );
    },
  };
}

const openPhases: ReadonlySet<AlertDto['phase']> = new Set(['raised', 'clearing', 'put-off', 'no-data']);

function isAsked({ phase, raisedAt }: AlertDto, state: ParsedQueryOf<'listAlerts'>['state']): boolean {
  switch (state) {
    case 'all':
      return true;
    case 'holding':
      return phase === 'holding';
    case 'open':
      return openPhases.has(phase) && raisedAt !== null;
  }
}

function alertQuestions(deps: ViewDeps): Pick<Views, 'alerts' | 'isLooking' | 'actOnAlert' | 'evaluations'> {
  const { store, watch } = deps;
  return {
    alerts(query, nowMs) {
      const reader = alertReader(deps, nowMs);
      const inBook = [...watch.book.alerts.values()].flatMap((alert) => alertToWire(alert, reader) ?? []);
      const { nuc, limit } = query;
      const over = (): readonly EndedAlert[] =>
        nuc === undefined ? watch.book.ended(0, limit) : watch.book.endedAbout(nuc, 0).slice(0, limit);
      const ended = query.state === 'all' ? over().map((one) => endedToWire(one, reader)) : [];
      const endedIds = new Set(ended.map(({ id }) => id));
      return [...inBook.filter((alert) => isAsked(alert, query.state) && !endedIds.has(alert.id)), ...ended]
        .filter(({ subject }) => nuc === undefined || subject.nucIds.includes(nuc))
        .sort(byUrgency)
        .slice(0, limit);
    },
    isLooking: () => watch.isLooking,
    actOnAlert(id, action, actor, nowMs) {
      const after = watch.act(id, actOf(action, actor.name, nowMs));
      return after && alertToWire(after, alertReader(deps, nowMs));
    },
    evaluations: (nucId, nowMs) =>
      watch.where(nowMs).nucs.some(({ id }) => id === nucId)
        ? evaluationsView(
            watch.evaluations(nucId, nowMs),
            displayOf(deps, { siteId: store.places.hive(nucId)?.siteId ?? '' }, nowMs),
          )
        : undefined,
  };
}

function planQuestions(
  deps: ViewDeps,
): Pick<Views, 'plan' | 'queens' | 'changeIntroduction' | 'previewBatch' | 'createBatch' | 'calendar'> {
  const { store, watch } = deps;
  const unavailable = (): readonly string[] => unavailableDays(store.settings);
  return {
    plan(query, nowMs) {
      const analyses = analysesOf(deps, nowMs);
      const goWithout = queensView(analyses, store.queens.arrivals(), undefined, nowMs).flatMap(
        ({ arrivalId, nucs }) => (arrivalId === null ? [] : nucs.filter(({ order }) => order === null)),
      );
      return planView(analyses, query, unavailable(), nowMs, {
        queenOf: (one) => queenOf(deps, one),
        goWithout: new Set(goWithout.map(({ nucId }) => nucId)),
        warmestC: (site, date) => knownWarmest(store.forecasts, site, date, nowMs),
      });
    },
    queens({ arrival, expected }, nowMs) {
      if (arrival !== undefined && !store.queens.arrival(arrival)) throw notFound('delivery', arrival);
      const whatIf =
        arrival === undefined || expected === undefined ? undefined : { arrivalId: arrival, expected };
      return queensView(analysesOf(deps, nowMs), store.queens.arrivals(), whatIf, nowMs);
    },
    changeIntroduction: (id, change, actor, nowMs) =>
      changeIntroduction(store, id, change, { name: actor.name, entryId: randomUUID() }, nowMs),
    previewBatch: (input, nowMs) => previewBatch(store, input, unavailable(), nowMs),
    createBatch(input, nowMs) {
      const created = createBatch(store, input, unavailable(), nowMs, randomUUID);
      watch.setupChanged(
        nowMs,
        created.nucIds.map((hiveId) => ({ hiveId })),
      );
      deps.wake();
      return created;
    },
    async calendar(nowMs, reminderH) {
      // Its package is loaded by the first phone that asks.
      const { calendarText } = await import('./plan/calendar-text.ts');
      return calendarText(analysesOf(deps, nowMs), {
        reminderH,
        farmName: farmSettings(store.settings).farmName,
        display: { ...farmSettings(store.settings).display, timeZone: deps.timeZone() },
        nowMs,
        marks: store.marks,
      });
    },
  };
}

function reviewQuestions(deps: ViewDeps): Pick<Views, 'reviewBatch' | 'outcomes' | 'outcomeRows' | 'replay'> {
  const { store, watch } = deps;
  return {
    reviewBatch: (query, nowMs) => batchView(reviewedBatch(deps, query.batch, nowMs), query),
    outcomes: (query, nowMs) => outcomesView(outcomeFacts(store, nowMs), query.by),
    outcomeRows: (nowMs) => outcomeFacts(store, nowMs),
    replay: (input) => replayForPage({ store, book: watch.book }, input),
  };
}

function limitQuestions({ store }: ViewDeps): Pick<Views, 'limits' | 'putLimit'> {
  return {
    limits(query) {
      const subject = limitSubjectOf(store, query);
      return subject && limitsToWire(readLimits(store.settings.get(limitsKey)).limits, subject);
    },
    putLimit(input, actor) {
      const subject = limitSubjectOf(store, { [input.scope]: input.scopeId });
      if (!subject) throw notFound(input.scope, input.scopeId ?? '');
      const changed = withLimit(store.settings.get(limitsKey), input);
      if (!changed.ok) throw new UserError('invalid-input', `This limit can't be set: ${changed.problem}.`);
      store.settings.put(limitsKey, changed.stored, { by: actor.name });
      return limitsToWire(readLimits(changed.stored).limits, subject);
    },
  };
}

function changes(
  deps: ViewDeps,
): Pick<Views, 'tryTelling' | 'afterLog' | 'afterHiveVisit' | 'afterImport' | 'afterSetupChange'> {
  const { store, watch } = deps;
  return {
    async tryTelling(id, nowMs) {
      const sent = await deps.tryNotificationChannel(id, nowMs);
      return sent && { ok: sent.ok, detail: sent.detail };
    },
    afterLog(introductionId, nowMs) {
      const introduction = store.introductions.get(introductionId);
      if (!introduction) return;
      forgetMissRates(store, introductionId);
      watch.logChanged(introduction.nucId);
      closeIfOver(deps, introduction.nucId, introductionId, nowMs);
      watch.evaluateNuc(introduction.nucId, nowMs);
    },
    afterHiveVisit(hiveId, nowMs) {
      if (store.places.hive(hiveId)?.role !== 'nuc') return;
      watch.logChanged(hiveId);
      watch.evaluateNuc(hiveId, nowMs);
    },
    afterImport() {
      forgetMissRates(store);
      watch.imported();
      deps.wake();
    },
    afterSetupChange(nowMs, places) {
      forgetMissRates(store);
      watch.setupChanged(nowMs, places);
      deps.wake();
    },
  };
}

function limitSubjectOf(
  { places }: Store,
  { nuc, site }: { readonly nuc?: string | undefined; readonly site?: string | undefined },
): Subject | undefined {
  const hive = nuc === undefined ? undefined : places.hive(nuc);
  if (nuc !== undefined) return hive && { kind: 'nuc', id: hive.id, name: hive.name, siteId: hive.siteId };
  const found = site === undefined ? undefined : places.site(site);
  if (site !== undefined) return found && { kind: 'site', id: found.id, name: found.name };
  return { kind: 'server', id: 'server', name: 'the farm' };
}

/** An outcome in the log closes the introduction; taking it back opens it again. */
function closeIfOver({ store, watch }: ViewDeps, nucId: string, introductionId: string, nowMs: number): void {
  const state = watch.analysis(nucId, nowMs)?.state;
  if (state?.setup.id !== introductionId) return;
  const closedAtMs = store.introductions.get(introductionId)?.closedAtMs;
  if (state.outcome && closedAtMs === undefined)
    store.introductions.close(introductionId, state.outcome.atMs);
  else if (!state.outcome && closedAtMs !== undefined) store.introductions.reopen(introductionId);
}
