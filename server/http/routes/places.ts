/** Sites, hives, and which channel stands where. */
import { assignablePlacesByQuantity } from '../../contract/sensors.ts';
import type { AppDeps } from '../deps.ts';
import { implement } from '../operation.ts';
import { UserError, orNotFound } from '../../user-error.ts';
import { newId } from '../../farm/secrets.ts';
import { assignmentToWire, hiveToWire, msOf, present } from '../../farm/wire.ts';

export function siteRoutes({ store, views }: AppDeps) {
  const { places } = store;
  return {
    ...implement('listSites', () => ({ items: places.listSites() })),
    ...implement('addSite', async ({ body, nowMs }) => {
      const { id = newId(), ...rest } = body;
      const there = places.site(id);
      // The same form sent twice makes one site; another site under the same id is a mistake.
      if (there && there.name !== rest.name)
        throw new UserError('conflict', `The id ${id} belongs to the site ${there.name}.`);
      const site = places.putSite(present({ id, ...rest }));
      await views.afterSetupChange(nowMs, [{ siteId: id }]);
      return site;
    }),
    ...implement('changeSite', async ({ params, body, nowMs }) => {
      orNotFound(places.site(params.id), 'site', params.id);
      const site = places.putSite(present({ id: params.id, ...body }));
      await views.afterSetupChange(nowMs, [{ siteId: params.id }]);
      return site;
    }),
  };
}

export function hiveRoutes({ store, views }: AppDeps) {
  const { places } = store;
  return {
    ...implement('listHives', () => ({ items: places.listHives({ retired: true }).map(hiveToWire) })),
    ...implement('addHive', async ({ body, nowMs }) => {
      const { id = newId(), box, emptyKg, ...rest } = body;
      const there = places.hive(id);
      if (there && (there.name !== rest.name || there.siteId !== rest.siteId || there.role !== rest.role))
        throw new UserError('conflict', `The id ${id} belongs to ${there.name}, which is there already.`);
      const hive =
        there ??
        places.putHive(present({ id, ...rest, box: present({ kind: box, emptyKg }), createdAtMs: nowMs }));
      await views.afterSetupChange(nowMs, [{ hiveId: id }]);
      return hiveToWire(hive);
    }),
    ...implement('changeHive', async ({ params, body, nowMs }) => {
      const before = orNotFound(places.hive(params.id), 'nuc or parent colony', params.id);
      const { box, emptyKg, retired, ...rest } = present(body);
      const boxDetails = present({
        ...before.box,
        kind: box ?? before.box.kind,
        emptyKg: emptyKg ?? before.box.emptyKg,
      });
      const { retiredAtMs: wasRetired, ...kept } = before;
      const retiredAtMs = (retired ?? wasRetired !== undefined) ? (wasRetired ?? nowMs) : undefined;
      const hive = places.putHive(present({ ...kept, ...rest, box: boxDetails, retiredAtMs }));
      await views.afterSetupChange(nowMs, [{ hiveId: params.id }]);
      return hiveToWire(hive);
    }),
  };
}

export function assignmentRoutes({ store, views, events }: AppDeps) {
  const { places, channels } = store;
  return {
    ...implement('assign', async ({ body, nowMs }) => {
      const { sensor, quantity } = orNotFound(channels.get(body.channelId), 'channel', body.channelId);
      const possible = assignablePlacesByQuantity[quantity];
      if (!possible.includes(body.place)) {
        const detail = `${sensor} sends ${quantity}, which can be assigned as ${possible.join(', ')} and not as ${body.place}`;
        throw new UserError('invalid-input', `${detail}.`, { faults: [{ pointer: '#/place', detail }] });
      }
      const owner = body.hiveId === undefined ? { siteId: body.siteId ?? '' } : { hiveId: body.hiveId };
      const wanted = {
        channelId: body.channelId,
        owner,
        position: body.place,
        fromMs: msOf(body.from),
        toMs: body.to === undefined ? null : msOf(body.to),
      };
      const assigned = body.takesOver ? places.takeOver(wanted) : places.assign(wanted);
      events.publish({ type: 'channels' });
      const stood = places.assignmentsOfChannel(body.channelId).map((one) => one.owner);
      await views.afterSetupChange(nowMs, stood);
      return assignmentToWire(assigned);
    }),
    ...implement('changeAssignment', async ({ params, body, nowMs }) => {
      orNotFound(places.assignment(params.id), 'assignment', params.id);
      const { from, to } = body;
      const changed = places.changeAssignment(
        params.id,
        present({
          fromMs: from === undefined ? undefined : msOf(from),
          toMs: to === undefined || to === null ? to : msOf(to),
        }),
      );
      events.publish({ type: 'channels' });
      await views.afterSetupChange(nowMs, [changed.owner]);
      return assignmentToWire(changed);
    }),
  };
}
