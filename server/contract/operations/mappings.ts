/** Messages that nobody understood, and the mappings that make readings of them. */
import * as sensors from '../sensors.ts';
import { byId, byNumber, type Operation } from './operation.ts';

export const mappingOperations = {
  listQuarantine: {
    method: 'get',
    path: '/quarantine',
    role: 'viewer',
    summary: 'Messages nobody understood, with the reason',
    response: sensors.quarantineSchema,
  },
  dropQuarantined: {
    method: 'delete',
    path: '/quarantine/{id}',
    role: 'keeper',
    summary: 'Throw a quarantined message away',
    params: byNumber,
  },
  listMappings: {
    method: 'get',
    path: '/mappings',
    role: 'viewer',
    summary: 'Mappings',
    response: sensors.mappingsSchema,
  },
  putMapping: {
    method: 'put',
    path: '/mappings/{id}',
    role: 'keeper',
    summary: 'Save a mapping',
    params: byId,
    body: sensors.mappingSchema.omit({ id: true }),
    response: sensors.mappingSchema,
  },
  importMappings: {
    method: 'post',
    path: '/mappings/import',
    role: 'keeper',
    summary: 'Take in the mappings of a saved file: all of them, or none where one is wrong',
    body: sensors.mappingFileSchema,
    response: sensors.mappingsTakenInSchema,
  },
  deleteMapping: {
    method: 'delete',
    path: '/mappings/{id}',
    role: 'keeper',
    summary: 'Delete a mapping',
    params: byId,
  },
  tryMapping: {
    method: 'post',
    path: '/mappings/try',
    role: 'helper',
    summary: 'What a mapping makes of a message, nothing stored',
    body: sensors.mappingTrySchema,
    response: sensors.mappingTriedSchema,
  },
} as const satisfies Record<string, Operation>;
