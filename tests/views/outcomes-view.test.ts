/** Which introductions count for a source, a method or a season: those in which a queen was in the nuc. */
import { describe, expect, it } from 'vitest';
import { outcomesView, type OutcomeFacts } from '../../server/views/batches/outcomes-view.ts';

const row = (over: Partial<OutcomeFacts>): OutcomeFacts => ({
  nuc: 'Nuc 1',
  site: 'Orchard',
  batch: '',
  introductionId: 'intro-one',
  startingPoint: 'planned-split',
  method: 'candy-cage',
  queen: 'queen-one',
  source: 'a breeder',
  splitAt: '2027-05-01T08:00:00Z',
  releasedAt: '',
  outcome: 'accepted',
  outcomeAt: '2027-06-01T08:00:00Z',
  framesOfBees: 3,
  timeZone: 'Europe/Berlin',
  queenWasInIt: true,
  ...over,
});

describe('outcomes by source', () => {
  const counts = (...rows: readonly Partial<OutcomeFacts>[]) => {
    const [first] = outcomesView(rows.map(row), 'source').items;
    return first && [first.accepted, first.lost, first.open];
  };

  it('counts a queen that was killed in the nuc as lost', () => {
    expect(counts({}, { outcome: 'queen-killed' })).toEqual([1, 1, 0]);
  });

  it('leaves out a nuc that was given up before a queen was in it: dead on arrival, united, called off', () => {
    const never = { queenWasInIt: false };
    expect(
      counts(
        {},
        { ...never, outcome: 'given-up' },
        { ...never, outcome: 'united' },
        { ...never, outcome: 'queen-lost' },
      ),
    ).toEqual([1, 0, 0]);
  });

  it('keeps one that is open, and one that is called accepted without an entry of her cage', () => {
    const never = { queenWasInIt: false };
    expect(counts({ ...never, outcome: '' }, { ...never })).toEqual([1, 0, 1]);
  });
});

describe('the outcomes in words', () => {
  const text = (accepted: number, lost: number, lostFrom = 'a breeder'): string =>
    outcomesView(
      [
        ...Array.from({ length: accepted }, () => row({})),
        ...Array.from({ length: lost }, () => row({ outcome: 'queen-killed', source: lostFrom })),
      ],
      'source',
    ).text;
  it('speak of so few only where they are few', () => {
    expect(text(4, 2)).toContain(
      '4 of 6 queens were accepted: 67 %. With so few, the true share may lie anywhere from',
    );
    expect(text(180, 20)).toMatch(
      /^180 of 200 queens were accepted: 90 %\. The true share may lie anywhere from/,
    );
  });
  it('count one as one', () => {
    expect(text(1, 0)).toMatch(/^1 of 1 queen was accepted: 100 %\. /);
    expect(text(1, 4)).toMatch(/^1 of 5 queens was accepted: 20 %\. /);
  });
  it('warn of small groups where there is one', () => {
    expect(text(20, 20)).not.toContain('say next to nothing');
    expect(text(20, 2, 'another breeder')).toContain(
      'Groups with fewer than 5 outcomes say next to nothing.',
    );
  });
});
