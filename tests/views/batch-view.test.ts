/** A batch looked back on: who is outside its band and who is not, what became of the queens, and what is too little to say. */
import { describe, expect, it } from 'vitest';
import { batchView } from '../../server/views/batches/batch-view.ts';
import { reviewedBatch, type BatchMember } from '../../server/views/batches/reviewed-batch.ts';
import type { ViewDeps } from '../../server/views/view-deps.ts';

const dayMs = 86_400_000;
const day0Ms = Date.UTC(2027, 4, 1, 10);
const dateOf = (day: number): string => new Date(day0Ms + day * dayMs).toISOString().slice(0, 10);

/** What a view reads of a nuc: a value for the brood of each day. */
function member(
  n: number,
  broodC: readonly number[],
  outcome: string | null = 'accepted',
  coverage = 1,
  timeZone = 'Europe/Berlin',
  earlier: readonly string[] = [],
): BatchMember {
  const state = {
    day0Ms,
    queen: { releasedAtMs: day0Ms },
    outcome: outcome === null ? null : { outcome, atMs: day0Ms + 20 * dayMs },
    facts: [{ fact: { kind: 'grafted', larvae: 20 }, atMs: day0Ms + 30 * dayMs }],
  };
  const broodDays = broodC.map((medianC, day) => ({ date: dateOf(day), medianC, spreadC: 1, coverage }));
  return {
    analysis: {
      nuc: { id: `n${String(n)}`, name: `Nuc ${String(n)}` },
      site: { timeZone },
      state,
      signals: { nightWeights: [], broodDays },
    },
    state,
    earlier,
  } as unknown as BatchMember;
}

const steady = (n: number): readonly number[] => Array.from({ length: 14 }, () => 34.4 + 0.1 * (n % 5));
const view = (members: readonly BatchMember[]) =>
  batchView(
    { batches: ['May'], batch: 'May', members },
    { alignedOn: 'release', quantity: 'brood-temperature' },
  );

describe('a batch looked back on', () => {
  // Noon of UTC is the next day in New Zealand (UTC+12, in summer +13; IANA tz database), and lies on its date in Hawaii.
  it.each(['Pacific/Auckland', 'Pacific/Honolulu', 'Europe/Berlin'])('counts its days in %s', (timeZone) => {
    const [line] = view([member(1, [30, 31, 32], 'accepted', 1, timeZone)]).nucs;
    expect(line?.values).toEqual([30, 31, 32]);
  });

  it('marks the one whose brood cooled, from the day on which it left the band', () => {
    const cooling = steady(3).map((value, day) => (day < 9 ? value : value - 0.9 * (day - 8)));
    const members = [1, 2, 3, 4, 5, 6, 7, 8].map((n) =>
      n === 3 ? member(n, cooling, 'queen-killed') : member(n, steady(n)),
    );
    const { nucs, summary } = view(members);
    expect(nucs.filter(({ outsideSinceDay }) => outsideSinceDay !== null)).toMatchObject([
      { id: 'n3', outsideSinceDay: 9, outcome: 'queen-killed', text: 'below the band from day 9 on' },
    ]);
    expect(summary).toBe(
      '8 nucs of May: 7 queens accepted, 1 lost. Day 0 is the release. Outside the band: Nuc 3.',
    );
  });

  it('has a band of those whose queens were kept: a lost nuc does not pull it down', () => {
    const lost = (n: number): BatchMember =>
      member(
        n,
        Array.from({ length: 14 }, (_, day) => 34.4 - 0.9 * day),
        'queen-killed',
      );
    const members = [1, 2, 3, 4, 5, 6].map((n) => member(n, steady(n)));
    const { band, nucs } = view([...members, lost(7), lost(8)]);
    expect(band).toEqual(view(members).band);
    expect(nucs.filter(({ outsideSinceDay }) => outsideSinceDay !== null).map(({ id }) => id)).toEqual([
      'n7',
      'n8',
    ]);
  });

  it('marks nobody for being the warmest or the coldest of eight by less than two probes differ', () => {
    // The largest and the smallest of eight always lie beyond the 10th and the 90th percentile.
    const members = [1, 2, 3, 4, 5, 6, 7, 8].map((n) => member(n, Array<number>(14).fill(34.2 + 0.05 * n)));
    expect(view(members).nucs.map(({ outsideSinceDay }) => outsideSinceDay)).toEqual(Array(8).fill(null));
  });

  it('has no band for four nucs, and leaves out days that were hardly measured', () => {
    const few = view([1, 2, 3, 4].map((n) => member(n, steady(n))));
    expect(few.band.every((one) => one === null)).toBe(true);
    expect(few.summary).toContain('Too few for a band of their own.');
    expect(view([1, 2, 3, 4, 5].map((n) => member(n, steady(n), null, 0.4))).nucs).toEqual([]);
  });

  it('counts queens that are still open, and tells the day of a graft', () => {
    const { nucs, summary } = view(
      [1, 2, 3, 4, 5].map((n) => member(n, steady(n), n < 3 ? 'accepted' : null)),
    );
    expect(summary).toContain('2 queens accepted, 0 lost, 3 still open');
    expect(nucs[0]?.grafted).toEqual([dateOf(30)]);
  });

  it('counts the queen that a nuc lost before the one that it has', () => {
    const { nucs, summary } = view([
      member(1, steady(1), 'accepted', 1, 'UTC', ['queen-killed']),
      member(2, steady(2)),
    ]);
    expect(nucs.map(({ earlier }) => earlier)).toEqual([['queen-killed'], undefined]);
    expect(summary).toContain('2 nucs of May: 2 queens accepted, 1 lost.');
  });

  it('says of how many it speaks where some have nothing to draw', () => {
    const members = [1, 2, 3].map((n) => member(n, n === 2 ? [] : steady(n)));
    expect(view(members).summary).toMatch(/^2 of 3 nucs of May are drawn: 2 queens accepted, 0 lost\. /);
    expect(view([member(1, steady(1)), member(2, [])]).summary).toMatch(/^1 of 2 nucs of May is drawn: /);
  });
});

it('lists batches as people count', () => {
  const hives = ['Batch 10', 'Batch 2', 'Batch 1'].map((batch, i) => ({ id: `n${String(i)}`, batch }));
  const deps = {
    store: { places: { listHives: () => hives }, introductions: { ofNuc: () => [] } },
    watch: { analysis: () => undefined },
  } as unknown as ViewDeps;
  expect(reviewedBatch(deps, undefined, day0Ms).batches).toEqual(['Batch 1', 'Batch 2', 'Batch 10']);
});
