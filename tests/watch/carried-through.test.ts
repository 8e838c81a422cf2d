/** What one introduction knows goes on through all that follow it in the same nuc. */
import { afterEach, expect, it } from 'vitest';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { clockedFarm, foundNucs, type ClockedFarm } from './support/clocked-farm.ts';

const dayMs = 86_400_000;
const startMs = Date.UTC(2027, 5, 1, 6);
let world: ClockedFarm | undefined;
afterEach(() => world?.close());

function introduce({ store }: ClockedFarm, nth: number, facts: readonly FactPayload[]): void {
  const id = `introduction-${String(nth)}`;
  const openedAtMs = startMs + nth * 10 * dayMs;
  const common = {
    nucId: 'nuc-1',
    startingPoint: 'queenless-with-cells',
    method: 'candy-cage',
    setup: {},
  } as const;
  store.introductions.open({ id, ...common, openedAtMs });
  const entries = facts.map((fact, i) => {
    const atMs = openedAtMs + (i + 1) * 3_600_000;
    return {
      type: 'fact',
      id: `${id}-${String(i)}`,
      introductionId: id,
      happenedAtMs: atMs,
      writtenAtMs: atMs,
      fact,
    } as const;
  });
  store.introductions.append(entries);
  if (facts.some(({ kind }) => kind === 'outcome')) store.introductions.close(id, openedAtMs + dayMs);
}

it('signs of brood disease two introductions ago still stand, until they are ruled out', async () => {
  const farm = (world = await clockedFarm(startMs));
  foundNucs(farm, 1);
  const givenUp: FactPayload = { kind: 'outcome', outcome: 'given-up' };
  introduce(farm, 0, [{ kind: 'brood-disease', found: 'signs' }, givenUp]);
  introduce(farm, 1, [{ kind: 'note' }, givenUp]);
  introduce(farm, 2, []);
  farm.nowMs = startMs + 25 * dayMs;
  farm.farm.watch.setupChanged(farm.nowMs);
  const signs = () => farm.farm.watch.analysis('nuc-1', farm.nowMs)?.state?.signs;
  expect(signs()?.diseaseAtMs).toBe(startMs + 3_600_000);
  introduce(farm, 3, [{ kind: 'brood-disease', found: 'ruled-out' }]);
  farm.nowMs = startMs + 35 * dayMs;
  farm.farm.watch.setupChanged(farm.nowMs);
  expect(signs()?.diseaseAtMs).toBeNull();
});
