/**
 * Stories in which one condition of a gate alone keeps a bought queen from being killed: everything else in the log is
 * right. Days are common practice (cut on 7, look again on 10); a virgin needs at least 8 days from the start of her
 * cell (queen 15-16 d from the egg, Mussen et al. 1987, less a larva of 4 d, Fell and Morse 1984).
 */
import { describe, expect, it } from 'vitest';
import { noEvidence, type Gate } from '../../server/introduction/acts/gate.ts';
import { mayHangCage, mayOpenCandy } from './support/gates.ts';
import { at, cells, cleanEntries, facts, stateAt } from './support/field-log.ts';

type Entries = Parameters<typeof stateAt>[0];
type Setup = Parameters<typeof stateAt>[2];
const hour = 3_600_000;
const minute = 60_000;

const open = (entries: Entries, nowMs: number, setup: Setup = {}): Gate =>
  mayOpenCandy(stateAt(entries, nowMs, setup), noEvidence, nowMs);
const reason = (gate: Gate, words: string) => gate.reasons.find(({ text }) => text.includes(words));
const split: Entries = [[at(0), facts.split()]];
/** What stands before the last look in a log that is right. */
const first = cleanEntries[0]!;
const cut = cleanEntries[1]!;
const hung = cleanEntries[2]!;

describe('a virgin', () => {
  const lookedAt = (atMs: number): Entries => [first, cut, hung, [atMs, facts.cut()]];

  it('can be out 8 days after a cut that left larvae: a second look that late excludes none', () => {
    const late = at(7) + 8 * 24 * hour;
    const before = stateAt(lookedAt(late - minute), late + hour);
    const after = stateAt(lookedAt(late), late + hour);
    expect([before.virgin.loose, after.virgin.loose]).toEqual(['excluded', 'possible']);
    expect(open(lookedAt(late), late + hour)).toMatchObject({
      answer: 'stop',
      headline: 'A virgin may be loose',
    });
  });

  it('is asked for at the hour of the answer, not at the hour of the last fact', () => {
    const onlyCut: Entries = [first, cut, hung];
    const state = stateAt(onlyCut, at(8));
    expect(reason(mayOpenCandy(state, noEvidence, at(8)), 'No virgin can be loose')?.ok).toBe(true);
    expect(reason(mayOpenCandy(state, noEvidence, at(8)), 'missed')).toBeUndefined();
    const later = mayOpenCandy(stateAt(onlyCut, at(10)), noEvidence, at(10));
    expect(reason(later, 'No virgin can be loose but from a missed cell')?.ok).toBe(true);
    expect(mayOpenCandy(state, noEvidence, at(16))).toMatchObject({
      answer: 'stop',
      headline: 'A virgin may be loose',
    });
  });

  it('may come from larvae of a frame that was given, 8 days on, whatever the old queen’s eggs have become', () => {
    const frame = (brood: 'eggs-or-young-larvae' | 'sealed-only'): Entries => [
      first,
      cut,
      hung,
      [at(10), facts.cut()],
      [at(10, 11), facts.broodAdded({ brood })],
    ];
    expect(stateAt(frame('sealed-only'), at(19)).virgin.loose).toBe('excluded');
    expect(stateAt(frame('eggs-or-young-larvae'), at(17, 23)).virgin.loose).toBe('excluded');
    expect(stateAt(frame('eggs-or-young-larvae'), at(19)).virgin.loose).toBe('possible');
  });

  it('may come from a test frame that was forgotten for 8 days, not from one taken out on the second day', () => {
    const frame = (outDay: number): Entries => [
      ...cleanEntries,
      [at(10, 11), facts.broodAdded({ asTestFrame: true })],
      [at(outDay, 12), facts.broodTaken({ cellsOnIt: 3 })],
    ];
    expect(stateAt(frame(12), at(20)).virgin.loose).toBe('excluded');
    expect(stateAt(frame(18), at(20)).virgin.loose).toBe('possible');
  });

  it.each([['swarm cells were left', { cellsAlreadyThere: 'present-and-left' }]] as const)(
    'may be loose from the first day on where %s at the split',
    (_why, over) => {
      const log: Entries = [[at(0), facts.split(over)], cut, hung, [at(10), facts.cut()]];
      expect(open(log, at(10, 12))).toMatchObject({ answer: 'stop', headline: 'A virgin may be loose' });
    },
  );

  it('is excluded by a complete look on the day of the split that found no shell, not by a glance', () => {
    const looked = (over: Parameters<typeof facts.inspection>[0]): Entries => [
      [at(0), facts.split({ cellsAlreadyThere: 'not-looked' })],
      [at(0, 11), facts.inspection(over)],
    ];
    const risk = (over: Parameters<typeof facts.inspection>[0]) => stateAt(looked(over), at(1)).virgin.loose;
    expect(risk({})).toBe('excluded');
    expect(risk({ everyFrameChecked: false })).toBe('possible');
    expect(risk({ beesShakenOff: false })).toBe('possible');
    expect(risk({ cells: cells({ tornDown: 1 }) })).toBe('possible');
    expect(risk({ cells: cells({ sealed: 1 }) })).toBe('possible');
  });

  it('is shown not to be there by cells on a test frame, until a shell is found', () => {
    const shell: Entries = [
      first,
      cut,
      hung,
      [at(10), facts.cut({ emerged: 1 })],
      [at(10, 11), facts.broodAdded({ asTestFrame: true })],
    ];
    const out = (cellsOnIt: number): Entries => [...shell, [at(12, 11), facts.broodTaken({ cellsOnIt })]];
    expect(stateAt(shell, at(12)).virgin.loose).toBe('possible');
    expect(stateAt(out(0), at(12, 12)).virgin.loose).toBe('possible');
    expect(stateAt(out(4), at(12, 12)).virgin.loose).toBe('excluded');
    const another: Entries = [...out(4), [at(13), facts.inspection({ cells: cells({ emerged: 1 }) })]];
    expect(stateAt(another, at(13, 11)).virgin.loose).toBe('possible');
  });
});

describe('a queen of one’s own that lays', () => {
  const own = { startingPoint: 'own-laying-queen' } as const;
  const log = (over: Entries): Entries => [first, [at(1), facts.hung()], ...over];

  it('needs every cell cut on the day itself', () => {
    expect(open(log([[at(2), facts.cut({ open: 2 })]]), at(2, 12), own).answer).toBe('go');
    expect(open(log([[at(2), facts.cut({ open: 2 })]]), at(3), own)).toMatchObject({
      answer: 'wait',
      headline: 'Cut the cells first',
    });
    expect(open(log([]), at(2, 12), own).answer).toBe('wait');
  });

  it('waits where the look of the day left cells standing', () => {
    const left: Entries = [[at(2), facts.inspection({ cells: cells({ sealed: 1 }) })]];
    expect(open(log(left), at(2, 12), own)).toMatchObject({
      answer: 'wait',
      headline: 'Cut the cells first',
    });
  });

  it('needs no day in the cage, and her gate names what one look misses', () => {
    const today: Entries = [first, [at(2), facts.cut()], [at(2, 11), facts.hung()]];
    const gate = open(today, at(2, 12), own);
    expect([gate.answer, reason(gate, 'One look misses')?.ok]).toEqual(['go', 'unknown']);
    expect(gate.chanceOfStandingCell).toBeUndefined();
  });
});

describe('bees that bite kill her', () => {
  it('stops after biting at the cage, and goes again once they feed her', () => {
    const biting: Entries = [...cleanEntries, [at(10, 11), facts.atCage({ behaviour: 'biting' })]];
    expect(open(biting, at(10, 12))).toMatchObject({ answer: 'stop', headline: 'The bees bite at the cage' });
    const calm: Entries = [...biting, [at(11), facts.atCage({ behaviour: 'feeding' })]];
    expect(open(calm, at(11, 12)).answer).toBe('go');
  });

  it('stops after a hostile visit until the bees were watched at the cage since', () => {
    const hostile = (atMs: number) => [atMs, facts.inspection({ temperament: 'hostile' })] as const;
    const watched = (atMs: number) => [atMs, facts.atCage()] as const;
    expect(open([...cleanEntries, watched(at(10, 10.5)), hostile(at(10, 11))], at(10, 12)).answer).toBe(
      'stop',
    );
    expect(open([...cleanEntries, hostile(at(10, 10.5)), watched(at(10, 11))], at(10, 12)).answer).toBe('go');
  });

  it('looks for laying workers anew once the last look is more than three days old (assumed)', () => {
    const late: Entries = [first, cut, [at(10), facts.cut()], [at(20), facts.hung()]];
    const looked: Entries = [...late, [at(22), facts.inspection({ youngestBrood: 'none' })]];
    expect(open(looked, at(25)).answer).toBe('go');
    expect(open(looked, at(26))).toMatchObject({ answer: 'wait', headline: 'Look for laying workers first' });
    // A look for cells alone, that does not say what brood there is, shows no sign of them either.
    expect(open([...looked, [at(26), facts.inspection()]], at(26, 11)).answer).toBe('wait');
    expect(open([...looked, [at(26), facts.inspection({ youngestBrood: 'none' })]], at(26, 11)).answer).toBe(
      'go',
    );
  });

  it.each(['severalEggsACell', 'droneBroodInWorkerCells'] as const)('stops where workers lay: %s', (sign) => {
    const log: Entries = [...cleanEntries, [at(10, 11), facts.inspection({ [sign]: true })]];
    expect(open(log, at(10, 12)).headline).toBe('Laying workers');
  });
});

describe('a box without a cell', () => {
  const none = (over: Parameters<typeof facts.cut>[1] = {}): Entries => [
    first,
    [at(7), facts.cut()],
    hung,
    [at(10), facts.cut({}, over)],
  ];

  it('may have a queen: without a look for eggs the candy stays shut', () => {
    expect(open(none(), at(10, 12))).toMatchObject({ answer: 'wait', headline: 'Look for eggs first' });
    const seen = open(none({ youngestBrood: 'sealed-only' }), at(10, 12));
    expect([seen.answer, reason(seen, 'No queen cell was ever seen')?.ok]).toEqual(['go', 'unknown']);
    expect(open(none({ youngestBrood: 'eggs' }), at(10, 12)).answer).toBe('stop');
  });

  it.each(['open', 'sealed', 'tornDown'] as const)('is not one where a cell was %s', (kind) => {
    const log: Entries = [first, [at(7), facts.cut({ [kind]: 1 })], hung, [at(10), facts.cut()]];
    expect(open(log, at(10, 12)).answer).toBe('go');
  });
});

describe('a look that is not complete', () => {
  it.each([{ everyFrameChecked: false }, { beesShakenOff: false }])('is no second look: %j', (over) => {
    const log: Entries = [first, cut, hung, [at(10), facts.cut({}, over)]];
    expect(open(log, at(10, 12))).toMatchObject({
      answer: 'wait',
      headline: 'Look through every frame again first',
    });
  });

  it('does not undo cells that were seen and left', () => {
    const left: Entries = [...cleanEntries, [at(11), facts.inspection({ cells: cells({ open: 1 }) })]];
    const glance: Entries = [...left, [at(12), facts.cut({ open: 1 }, { everyFrameChecked: false })]];
    for (const log of [left, glance]) {
      expect(open(log, at(12, 11))).toMatchObject({
        answer: 'wait',
        headline: 'Queen cells stand: cut them first',
      });
    }
  });
});

describe('a second queen', () => {
  it.each([
    {
      what: 'let out',
      entry: [at(10, 11), facts.opened()],
      headline: 'A queen was let out',
      answer: 'stop',
    },
    {
      what: 'seen walking',
      entry: [at(10, 11), facts.looked()],
      headline: 'A queen is loose in it',
      answer: 'stop',
    },
    {
      what: 'dead',
      entry: [at(10, 11), { kind: 'queen-dead' }],
      headline: 'The queen is dead',
      answer: 'wait',
    },
  ] as const)('is not hung where the first was $what', ({ entry, headline, answer }) => {
    const log: Entries = [...cleanEntries, entry];
    expect(mayHangCage(stateAt(log, at(10, 12)), noEvidence, at(10, 12))).toMatchObject({ answer, headline });
  });

  it('is not hung where a laying queen walks free', () => {
    const log: Entries = [...split, [at(5), facts.inspection({ layingQueenSeen: true })]];
    expect(mayHangCage(stateAt(log, at(5, 11)), noEvidence, at(5, 11))).toMatchObject({
      answer: 'stop',
      headline: 'A queen may be in the box',
    });
  });
});

describe('what was brought in', () => {
  it('as a test frame, without a cell after a day, stops: a queen may be in the box', () => {
    const log: Entries = [
      ...cleanEntries,
      [at(10, 11), facts.broodAdded({ asTestFrame: true })],
      [at(12, 11), facts.broodTaken({ cellsOnIt: 0 })],
    ];
    expect(open(log, at(12, 12))).toMatchObject({ answer: 'stop', headline: 'A queen may be loose' });
  });

  it('as brood with eggs, gives larvae to raise a queen from', () => {
    const log: Entries = [...cleanEntries, [at(10, 11), facts.broodAdded()]];
    expect(reason(open(log, at(10, 12)), 'larvae may still be young enough')?.ok).toBe(false);
  });
});

it('the chance of a missed cell is told in percent', () => {
  const gate = open(cleanEntries, at(10, 12));
  const percent = (100 * (gate.chanceOfStandingCell ?? NaN)).toFixed(1);
  expect(reason(gate, `dangerous cell was missed: ${percent} %`)?.ok).toBe(true);
});
