/** What the analysis answers: nucs, charts, alerts, plans, review and limits. */
import type { NucSummary } from '../../contract/nucs.ts';
import type { AppDeps } from '../deps.ts';
import { implement } from '../operation.ts';
import { orNotFound } from '../../user-error.ts';

/** Without its traces a rail is a tenth of the size: lists of many nucs draw none. */
const withoutTraces = (nuc: NucSummary): NucSummary => ({
  ...nuc,
  rail: nuc.rail && { ...nuc.rail, nights: [], brood: [], band: [] },
});

export function nucRoutes({ views }: AppDeps) {
  return {
    ...implement('listNucs', async ({ query, nowMs }) => {
      const nucs = await views.nucs(nowMs);
      return { items: query.traces ? nucs : nucs.map(withoutTraces) };
    }),
    ...implement('getNuc', async ({ params, nowMs }) =>
      orNotFound(await views.nuc(params.id, nowMs), 'nuc', params.id),
    ),
    ...implement('getNucChart', async ({ params, query, nowMs }) =>
      orNotFound(await views.chart(params.id, query, nowMs), 'nuc', params.id),
    ),
    ...implement('listEvaluations', async ({ params, nowMs }) => ({
      items: orNotFound(await views.evaluations(params.id, nowMs), 'nuc', params.id),
    })),
  };
}

export function alertRoutes({ views }: AppDeps) {
  return {
    ...implement('listAlerts', async ({ query, nowMs }) => ({
      items: await views.alerts(query, nowMs),
      ...(views.isLooking() && { looking: true }),
    })),
    ...implement('actOnAlert', async ({ params, body, actor, nowMs }) =>
      orNotFound(await views.actOnAlert(params.id, body, actor, nowMs), 'alert', params.id),
    ),
  };
}

export function reviewRoutes({ views }: AppDeps) {
  return {
    ...implement('reviewBatch', ({ query, nowMs }) => views.reviewBatch(query, nowMs)),
    ...implement('outcomes', ({ query, nowMs }) => views.outcomes(query, nowMs)),
    ...implement('replay', async ({ body, nowMs }) =>
      orNotFound(await views.replay(body, nowMs), 'nuc', body.nucId),
    ),
  };
}

export function limitRoutes({ views }: AppDeps) {
  return {
    ...implement('listLimits', async ({ query, nowMs }) =>
      orNotFound(
        await views.limits(query, nowMs),
        query.nuc === undefined ? 'site' : 'nuc',
        query.nuc ?? query.site ?? '',
      ),
    ),
    ...implement('putLimit', async ({ body, actor, nowMs }) => await views.putLimit(body, actor, nowMs)),
  };
}
