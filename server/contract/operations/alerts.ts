/** Alerts, and why a rule raised one or not. */
import * as z from 'zod';
import * as alerts from '../alerts.ts';
import { byId, type Operation } from './operation.ts';

export const alertOperations = {
  listAlerts: {
    method: 'get',
    path: '/alerts',
    role: 'viewer',
    summary: 'Alerts, most urgent first',
    query: alerts.alertsQuerySchema,
    response: alerts.alertsSchema,
  },
  actOnAlert: {
    method: 'post',
    path: '/alerts/{id}/actions',
    role: 'helper',
    summary: 'Seen, put off, close with what was found, re-open',
    params: z.object({ id: z.string().min(1).max(200) }),
    body: alerts.alertActionSchema,
    response: alerts.alertSchema,
  },
  listEvaluations: {
    method: 'get',
    path: '/nucs/{id}/evaluations',
    role: 'viewer',
    summary: 'Why, and why not: every rule’s last evaluation for a nuc',
    params: byId,
    response: alerts.evaluationsSchema,
  },
} as const satisfies Record<string, Operation>;
