import type { QueryOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { resource, resourceFamily } from '../state/resource.ts';

/** Keys are the query as text, so that each view of a batch is kept by itself. */
export const batchReviews = resourceFamily(
  (key) =>
    call('reviewBatch', { query: Object.fromEntries(new URLSearchParams(key)) as QueryOf<'reviewBatch'> }),
  (event) => event.type === 'nuc',
);
export const outcomesBy = resourceFamily(
  (by) => call('outcomes', { query: { by: by as NonNullable<QueryOf<'outcomes'>>['by'] } }),
  (event) => event.type === 'nuc',
);
export const limits = resource(
  () => call('listLimits', {}),
  () => false,
);
