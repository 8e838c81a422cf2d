/** Nucs and parent colonies as boxes, and visits to them outside any introduction. */
import * as z from 'zod';
import { idText } from '../common.ts';
import * as places from '../places.ts';
import { byId, type Operation } from './operation.ts';

export const hiveOperations = {
  addHive: {
    method: 'post',
    path: '/hives',
    role: 'keeper',
    summary: 'Add a nuc or a parent colony',
    body: places.hiveInputSchema.extend({ id: idText.optional() }),
    response: places.hiveSchema,
  },
  listHives: {
    method: 'get',
    path: '/hives',
    role: 'viewer',
    summary: 'Nucs and parent colonies',
    response: z.object({ items: z.array(places.hiveSchema) }),
  },
  changeHive: {
    method: 'patch',
    path: '/hives/{id}',
    role: 'keeper',
    summary: 'Change a nuc or parent colony',
    params: byId,
    body: places.hivePatchSchema,
    response: places.hiveSchema,
  },
  listHiveVisits: {
    method: 'get',
    path: '/hives/{id}/visits',
    role: 'viewer',
    summary: 'Visits to a hive outside any introduction, newest first',
    params: byId,
    response: places.hiveVisitsSchema,
  },
  logHiveVisit: {
    method: 'post',
    path: '/hives/{id}/visits',
    role: 'helper',
    summary: 'Log a visit to any hive, also to one without an introduction',
    params: byId,
    body: places.hiveVisitInputSchema,
    response: places.hiveVisitSchema,
  },
  withdrawHiveVisit: {
    method: 'delete',
    path: '/hives/{id}/visits/{visitId}',
    role: 'helper',
    summary: 'A visit that was logged did not happen',
    params: z.object({ id: idText, visitId: idText }),
  },
} as const satisfies Record<string, Operation>;
