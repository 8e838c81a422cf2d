/** Sites. */
import { idText } from '../common.ts';
import * as places from '../places.ts';
import { byId, type Operation } from './operation.ts';

export const siteOperations = {
  listSites: {
    method: 'get',
    path: '/sites',
    role: 'viewer',
    summary: 'Sites',
    response: places.sitesSchema,
  },
  addSite: {
    method: 'post',
    path: '/sites',
    role: 'keeper',
    summary: 'Add a site',
    body: places.siteInputSchema.extend({ id: idText.optional() }),
    response: places.siteSchema,
  },
  changeSite: {
    method: 'put',
    path: '/sites/{id}',
    role: 'keeper',
    summary: 'Change a site',
    params: byId,
    body: places.siteInputSchema,
    response: places.siteSchema,
  },
} as const satisfies Record<string, Operation>;
