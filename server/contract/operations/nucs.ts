/** Nucs as the page shows them. */
import * as chart from '../chart.ts';
import * as nucs from '../nucs.ts';
import { byId, type Operation } from './operation.ts';

export const nucOperations = {
  listNucs: {
    method: 'get',
    path: '/nucs',
    role: 'viewer',
    summary: 'Every nuc with its rail and what is due',
    query: nucs.nucsQuerySchema,
    response: nucs.nucsSchema,
  },
  getNuc: {
    method: 'get',
    path: '/nucs/{id}',
    role: 'viewer',
    summary: 'One nuc: gates, plan, log, signals',
    params: byId,
    response: nucs.nucDetailSchema,
  },
  getNucChart: {
    method: 'get',
    path: '/nucs/{id}/chart',
    role: 'viewer',
    summary: 'What a chart of a given width needs, evidence included',
    params: byId,
    query: chart.chartQuerySchema,
    response: chart.chartSchema,
  },
} as const satisfies Record<string, Operation>;
