/** Farm settings and the limits of the rules. */
import * as settings from '../settings.ts';
import type { Operation } from './operation.ts';

export const settingsOperations = {
  getFarm: {
    method: 'get',
    path: '/settings/farm',
    role: 'viewer',
    summary: 'Farm settings',
    response: settings.farmSettingsSchema,
  },
  putFarm: {
    method: 'put',
    path: '/settings/farm',
    role: 'keeper',
    summary: 'Change farm settings',
    body: settings.farmPutSchema,
    response: settings.farmSettingsSchema,
  },
  listLimits: {
    method: 'get',
    path: '/settings/limits',
    role: 'viewer',
    summary: 'Rule limits in force for the farm, a site or a nuc',
    query: settings.limitsQuerySchema,
    response: settings.limitsSchema,
  },
  putLimit: {
    method: 'put',
    path: '/settings/limits',
    role: 'keeper',
    summary: 'Set one limit, or null to go back',
    body: settings.limitPutSchema,
    response: settings.limitsSchema,
  },
  listChanges: {
    method: 'get',
    path: '/settings/changes',
    role: 'viewer',
    summary: 'What was changed, when, by whom',
    response: settings.changesSchema,
  },
} as const satisfies Record<string, Operation>;
