import type { QueryOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import type { Change } from '../state/resource.ts';
import { resource, resourceFamily } from '../state/resource.ts';

const changedBy = ({ type }: Change): boolean => type === 'nuc';

/** Keys are the query as text, so that each view of a batch is kept by itself. */
export const batchReviews = resourceFamily(
  (key) =>
    call('reviewBatch', { query: Object.fromEntries(new URLSearchParams(key)) as QueryOf<'reviewBatch'> }),
  { changedBy },
);
export const outcomesBy = resourceFamily(
  (by) => call('outcomes', { query: { by: by as NonNullable<QueryOf<'outcomes'>>['by'] } }),
  { changedBy },
);
export const limits = resource(() => call('listLimits', {}));
