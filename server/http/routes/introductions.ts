/** Opening an introduction in a nuc, and changing it. */
import type { Introduction } from '../../store/field-log/introductions.ts';
import { clockSlackMs } from '../../introduction/log/log-check.ts';
import { newId } from '../../farm/secrets.ts';
import type { ResponseOf } from '../../contract/index.ts';
import type { AppDeps } from '../deps.ts';
import { implement } from '../operation.ts';
import { UserError, orNotFound } from '../../user-error.ts';
import { iso, msOf, present, type Whole } from '../../farm/wire.ts';

function toWire(one: Introduction): ResponseOf<'openIntroduction'> {
  const planned = one.setup['plannedSplit'];
  return present<Whole<ResponseOf<'openIntroduction'>>>({
    id: one.id,
    nucId: one.nucId,
    startingPoint: one.startingPoint,
    method: one.method,
    queenId: one.queenId,
    plannedSplit: typeof planned === 'string' ? planned : undefined,
    arrivalId: one.arrivalId,
    openedAt: iso(one.openedAtMs),
    closedAt: one.closedAtMs === undefined ? undefined : iso(one.closedAtMs),
  });
}

/** Of one that is entered while it is under way: a year back at most, and never within the one before it. */
const longestUnderWayMs = 366 * 86_400_000;

function refuseBeginning(
  nuc: string,
  openedAtMs: number,
  before: Introduction | undefined,
  nowMs: number,
): void {
  if (openedAtMs > nowMs + clockSlackMs) {
    throw new UserError(
      'invalid-input',
      `The beginning in ${nuc} lies in the future: leave it out, or correct it.`,
    );
  }
  if (openedAtMs < nowMs - longestUnderWayMs) {
    throw new UserError('invalid-input', `The beginning in ${nuc} lies more than a year back: correct it.`);
  }
  if (before?.closedAtMs !== undefined && openedAtMs < before.closedAtMs) {
    throw new UserError(
      'conflict',
      `The introduction before in ${nuc} ended at ${iso(before.closedAtMs)}: this one can’t have begun before that.`,
    );
  }
}

export function introductionRoutes({ store, views, events }: AppDeps) {
  return {
    ...implement('openIntroduction', async ({ params, body, nowMs }) => {
      const hive = orNotFound(store.places.hive(params.id), 'nuc', params.id);
      if (hive.role !== 'nuc') {
        throw new UserError('conflict', `${hive.name} is a parent colony: a queen is introduced into a nuc.`);
      }
      const { id = newId(), startingPoint, method, queenId, plannedSplit, arrivalId, openedAt } = body;
      const [newest] = store.introductions.ofNuc(params.id);
      const openedAtMs = openedAt === undefined ? nowMs : msOf(openedAt);
      refuseBeginning(hive.name, openedAtMs, newest?.id === id ? undefined : newest, nowMs);
      if (newest && newest.id !== id && newest.closedAtMs === undefined) {
        throw new UserError(
          'conflict',
          `An introduction is under way in ${hive.name}: log how it ended, or call it off, first.`,
        );
      }
      if (arrivalId !== undefined) orNotFound(store.queens.arrival(arrivalId), 'delivery', arrivalId);
      const opened = store.introductions.open(
        present({
          id,
          nucId: params.id,
          startingPoint,
          method,
          queenId,
          arrivalId,
          setup: present({ plannedSplit }),
          openedAtMs,
        }),
      );
      await views.afterLog(opened.id, nowMs);
      events.publish({ type: 'nuc', id: params.id });
      return toWire(opened);
    }),
    ...implement('changeIntroduction', async ({ params, body, actor, nowMs }) => {
      const changed = orNotFound(
        await views.changeIntroduction(params.id, body, actor, nowMs),
        'introduction',
        params.id,
      );
      await views.afterSetupChange(nowMs, [{ hiveId: changed.nucId }]);
      events.publish({ type: 'nuc', id: changed.nucId });
      return toWire(changed);
    }),
    ...implement('listIntroductions', ({ params }) => {
      orNotFound(store.places.hive(params.id), 'nuc', params.id);
      return { items: store.introductions.ofNuc(params.id).map(toWire) };
    }),
  };
}
