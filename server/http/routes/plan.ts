/** Deliveries of queens, the plan and its calendar. */
import { isDeepStrictEqual } from 'node:util';
import type { CalendarLinks } from '../access/calendar-links.ts';
import { newId } from '../../farm/secrets.ts';
import type { AppDeps } from '../deps.ts';
import { settingKey } from '../../farm/settings.ts';
import { implement } from '../operation.ts';
import { UserError, orNotFound } from '../../user-error.ts';
import { present } from '../../farm/wire.ts';

function refuseMoreDead({ name, queens, dead }: { name: string; queens: number; dead: number }): void {
  if (dead <= queens) return;
  throw new UserError(
    'invalid-input',
    `Of the ${String(queens)} queens of ${name} ${String(dead)} can’t have come dead: correct one of the numbers.`,
    { faults: [{ pointer: '#/dead', detail: `at most ${String(queens)} wanted` }] },
  );
}

export function arrivalRoutes({ store, views }: AppDeps) {
  const { queens } = store;
  return {
    ...implement('listArrivals', () => ({ items: queens.arrivals() })),
    ...implement('addArrival', async ({ body, nowMs }) => {
      refuseMoreDead(body);
      const id = body.id ?? newId();
      const there = queens.arrival(id);
      if (there && there.name !== body.name) {
        throw new UserError('conflict', `The id ${id} belongs to the delivery ${there.name}.`);
      }
      const given = present({ ...body, id });
      if (there) {
        const { assigned: _sum, ...stored } = there;
        if (!isDeepStrictEqual(stored, given))
          throw new UserError(
            'conflict',
            `${there.name} is there already, with other facts: change it in the list of deliveries.`,
          );
      } else queens.putArrival(given);
      await views.afterSetupChange(nowMs);
      return orNotFound(queens.arrival(id), 'delivery', id);
    }),
    ...implement('changeArrival', async ({ params, body, nowMs }) => {
      refuseMoreDead(body);
      orNotFound(queens.arrival(params.id), 'delivery', params.id);
      queens.putArrival(present({ ...body, id: params.id }));
      await views.afterSetupChange(nowMs);
      return orNotFound(queens.arrival(params.id), 'delivery', params.id);
    }),
  };
}

export function planRoutes({ store, views, events, settings }: AppDeps, links: CalendarLinks) {
  return {
    ...implement('getPlan', ({ query, nowMs }) => views.plan(query, nowMs)),
    ...implement('getQueens', async ({ query, nowMs }) => ({
      items: [...(await views.queens(query, nowMs))],
    })),
    ...implement('previewBatch', ({ body, nowMs }) => views.previewBatch(body, nowMs)),
    ...implement('createBatch', ({ body, nowMs }) => views.createBatch(body, nowMs)),
    ...implement('undoBatch', async ({ body, nowMs }) => {
      const removed = store.undoPlanned(body.nucIds);
      await views.afterSetupChange(
        nowMs,
        body.nucIds.map((hiveId) => ({ hiveId })),
      );
      for (const id of body.nucIds) events.publish({ type: 'nuc', id });
      return { removed };
    }),
    ...implement('setUnavailable', async ({ body, actor, nowMs }) => {
      const days = [...new Set(body.days)].sort();
      store.settings.put(settingKey.unavailable, days, { by: actor.name });
      await views.afterSetupChange(nowMs);
      return { days };
    }),
    ...implement('calendarLink', ({ actor }) => {
      const path = links.pathFor(actor);
      if (path === undefined)
        throw new UserError('not-allowed', 'A calendar belongs to a person: sign in to get its address.');
      return { path: `${settings.basePath}${path}`, person: actor.name };
    }),
  };
}
