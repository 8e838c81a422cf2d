/** Visits to any hive, outside the log of an introduction. */
import type { HiveVisit as HiveVisitDto } from '../../contract/places.ts';
import { clockSlackMs } from '../../introduction/log/log-check.ts';
import { newId } from '../../farm/secrets.ts';
import { iso, msOf, present } from '../../farm/wire.ts';
import type { HiveVisit } from '../../store/field-log/hive-visits.ts';
import { orNotFound, UserError } from '../../user-error.ts';
import type { AppDeps } from '../deps.ts';
import { implement } from '../operation.ts';

const toWire = ({ happenedAtMs, writtenAtMs, withdrawnAtMs, ...visit }: HiveVisit): HiveVisitDto => ({
  ...visit,
  happenedAt: iso(happenedAtMs),
  writtenAt: iso(writtenAtMs),
  withdrawn: withdrawnAtMs !== undefined,
});

export function hiveVisitRoutes({ store, views, events }: AppDeps) {
  const { hiveVisits, places } = store;
  const changed = async (hiveId: string, nowMs: number): Promise<void> => {
    await views.afterHiveVisit(hiveId, nowMs);
    events.publish({ type: 'nuc', id: hiveId, logged: true });
  };
  return {
    ...implement('listHiveVisits', ({ params }) => {
      orNotFound(places.hive(params.id), 'nuc or colony', params.id);
      return { items: hiveVisits.ofHive(params.id).map(toWire) };
    }),
    ...implement('logHiveVisit', async ({ params, body, actor, nowMs }) => {
      const hive = orNotFound(places.hive(params.id), 'nuc or colony', params.id);
      const { id = newId(), kind, note, happenedAt } = body;
      const happenedAtMs = happenedAt === undefined ? nowMs : msOf(happenedAt);
      if (happenedAtMs > nowMs + clockSlackMs) {
        throw new UserError(
          'invalid-input',
          `The visit to ${hive.name} lies in the future: correct its time.`,
        );
      }
      const visit = { id, hiveId: hive.id, happenedAtMs, writtenAtMs: nowMs, kind, by: actor.name, note };
      const stored = hiveVisits.add(present(visit));
      await changed(hive.id, nowMs);
      return toWire(stored);
    }),
    ...implement('withdrawHiveVisit', async ({ params, nowMs }) => {
      const visit = hiveVisits.get(params.visitId);
      orNotFound(visit?.hiveId === params.id ? visit : undefined, 'visit', params.visitId);
      hiveVisits.withdraw(params.visitId, nowMs);
      await changed(params.id, nowMs);
    }),
  };
}
