/** Several eggs in a cell after she was let out: hers for some days, or workers’. */
import { developmentMs } from '../../biology/duration.ts';
import { eggsSeenAfterDays, highEnd } from '../../biology/figures.ts';
import { mayBeOut, type QueenState } from '../queen/queen-state.ts';
import { cleanLooksApartMs, type LayingSign, type Signs } from '../log/signs.ts';
import type { Evidence } from './evidence.ts';

interface Seen {
  readonly queen: Pick<QueenState, 'releasedAtMs' | 'lastSeenAtMs'>;
  readonly signs: Pick<Signs, 'layingWorkers'>;
}

/** The sign since she was let out that worker cappings are to decide; null where it is none, or decided. */
export function eggsInDoubt({ queen, signs }: Seen): LayingSign | null {
  const { releasedAtMs, lastSeenAtMs } = queen;
  const sign = signs.layingWorkers;
  if (sign?.what !== 'several-eggs-a-cell' || releasedAtMs === null || sign.atMs < releasedAtMs) return null;
  const sheIsThere = (lastSeenAtMs ?? -Infinity) >= releasedAtMs;
  const justOut = sign.atMs - releasedAtMs <= developmentMs(highEnd(eggsSeenAfterDays));
  return sheIsThere || (sign.eggsStand === 'bottom' && justOut) ? sign : null;
}

/** A queen that was seen with the sign is gone since: it may have been hers, and says nothing sure of workers. */
export const perhapsHers = ({
  signs,
  queen,
}: {
  readonly signs: Pick<Signs, 'layingWorkers'>;
  readonly queen: QueenState;
}): boolean => signs.layingWorkers?.besideHer === true && !mayBeOut(queen);

/**
 * From when on another clean look disproves what was seen; null where none was made since, or where what was seen may be a
 * queen's that nobody found: a test frame tells of her.
 */
export const disprovedFromMs = ({
  signs: { layingWorkers, cleanSinceMs },
  evidence,
}: {
  readonly signs: Pick<Signs, 'layingWorkers' | 'cleanSinceMs'>;
  readonly evidence: Pick<Evidence, 'queenless'>;
}): number | null =>
  layingWorkers === null || cleanSinceMs === null || evidence.queenless === 'contradicted'
    ? null
    : cleanSinceMs + cleanLooksApartMs;

/** What speaks against her brood, as a main clause without a full stop. */
export const layingSignWords: Readonly<Record<LayingSign['what'], string>> = {
  'several-eggs-a-cell': 'Several eggs in a cell: she lays drones, or workers lay',
  'eggs-on-the-walls': 'Eggs on the cell walls: workers lay',
  'drone-brood-in-worker-cells': 'Drone brood in worker cells: she lays drones, or workers lay',
};
