/** The replay of one nuc, as it is handed to a thread. */
import type { ResponseOf } from '../contract/index.ts';
import { AlertBook } from '../watch/alert-book.ts';
import { PastBatches } from '../watch/past-batch.ts';
import { replayNuc } from '../views/alerts/replay-nuc.ts';
import type { LimitChoices } from '../rules/engine/limits.ts';
import { rules as allRules } from '../rules/catalogue/registry.ts';
import type { Store } from '../store/store.ts';

export type ReplayAnswer = ResponseOf<'replay'>;

/** One nuc to replay; plain, so that it can be handed to a thread. */
export interface ReplayTask {
  readonly nucId: string;
  readonly from: string;
  readonly to: string;
  readonly limits: LimitChoices;
  /** All rules where absent. */
  readonly ruleIds?: readonly string[];
}

/** What all replays of one store rest on. */
export const sharedOf = (store: Store) => ({ book: new AlertBook(store), batches: new PastBatches(store) });
export type ReplayShared = ReturnType<typeof sharedOf>;

/** Undefined where there is no such nuc. */
export const replayTask = (
  store: Store,
  { ruleIds, ...asked }: ReplayTask,
  shared: ReplayShared,
): ReplayAnswer | undefined =>
  replayNuc({ store, ...shared }, asked, ruleIds && allRules.filter(({ id }) => ruleIds.includes(id)));
