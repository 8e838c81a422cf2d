/** Looking back. */
import * as review from '../review.ts';
import type { Operation } from './operation.ts';

export const reviewOperations = {
  reviewBatch: {
    method: 'get',
    path: '/review/batch',
    role: 'viewer',
    summary: 'A batch aligned on the split or the release, with its own band',
    query: review.reviewQuerySchema,
    response: review.batchReviewSchema,
  },
  outcomes: {
    method: 'get',
    path: '/review/outcomes',
    role: 'viewer',
    summary: 'Outcomes by group with Wilson intervals',
    query: review.outcomesQuerySchema,
    response: review.outcomesSchema,
  },
  replay: {
    method: 'post',
    path: '/review/replay',
    role: 'helper',
    summary: 'What the rules would have raised over a span',
    body: review.replayInputSchema,
    response: review.replaySchema,
  },
} as const satisfies Record<string, Operation>;
