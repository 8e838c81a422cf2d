/** What sensors and the keeper's look add to the gates' answers. */
import { describe, expect, it } from 'vitest';
import { dayNumber } from '../../server/introduction/calendar.ts';
import { mayCutCells, mayHangCage, mayLookForQueen, mayOpenCandy } from './support/gates.ts';
import { noEvidence, type Gate, type GateEvidence } from '../../server/introduction/acts/gate.ts';
import { at, cleanEntries, facts, stateAt, zone } from './support/field-log.ts';

type Judge = typeof mayOpenCandy;
type Entries = Parameters<typeof stateAt>[0];

const ask = (gate: Judge, entries: Entries, nowMs: number, evidence: Partial<GateEvidence> = {}): Gate =>
  gate(stateAt(entries, nowMs), { ...noEvidence, ...evidence }, nowMs);
const dayOf = (ms: number | undefined): number | undefined =>
  ms === undefined ? ms : dayNumber(at(0), ms, zone);
const reason = (gate: Gate, words: string) => gate.reasons.find(({ text }) => text.includes(words));

const split: Entries = [[at(0), facts.split()]];
const leaving = { foragersGone: { answer: 'no', text: 'Foragers are still leaving.' } } as const;
const gone = { foragersGone: { answer: 'yes', text: 'The foragers have gone.' } } as const;

describe('cut the cells', () => {
  it('waits for foragers that are still leaving, a day at a time', () => {
    const gate = ask(mayCutCells, split, at(7, 9), leaving);
    expect(gate).toMatchObject({ answer: 'wait', headline: 'The foragers are still leaving' });
    expect(dayOf(gate.untilMs)).toBe(8);
  });

  it('does not wait for them once a virgin may emerge tomorrow', () => {
    const gate = ask(mayCutCells, split, at(8, 9), leaving);
    expect(gate.answer).toBe('go');
    expect(reason(gate, 'can’t wait')?.ok).toBe(false);
  });

  it('goes with a good word where they are gone, with the flying days', () => {
    const gate = ask(mayCutCells, split, at(7, 9), { ...gone, flyingDays: 4 });
    expect(gate.answer).toBe('go');
    expect(reason(gate, 'Flying days since the move: 4')?.ok).toBe(true);
  });

  it('waits for the next day in the cold and among robbers, as a look for her does', () => {
    const cold = { weather: { text: '9 °C outside.', fitToOpen: false } } as const;
    const robbed = { robbing: 'Robbing is under way: 400 g lost by day.' };
    const evening = ask(mayCutCells, split, at(7, 18), cold);
    expect([evening.answer, evening.headline, dayOf(evening.untilMs)]).toEqual([
      'wait',
      'Not in this weather',
      8,
    ]);
    expect(ask(mayCutCells, split, at(7, 18), robbed)).toMatchObject({
      answer: 'wait',
      headline: 'Being robbed: look later',
    });
    const second: Entries = [...split, [at(7), facts.cut({ sealed: 3 })]];
    expect(ask(mayCutCells, second, at(10, 18), cold).answer).toBe('wait');
    const unknown = ask(mayCutCells, split, at(7, 9), {
      weather: { text: 'No weather.', fitToOpen: 'unknown' },
    });
    expect([unknown.answer, reason(unknown, 'No weather')?.ok]).toEqual(['go', 'unknown']);
  });

  it('goes in the cold and among robbers where a virgin may be out by tomorrow', () => {
    const cold = { weather: { text: '9 °C outside.', fitToOpen: false } } as const;
    const evening = ask(mayCutCells, split, at(8, 18), cold);
    expect(evening.answer).toBe('go');
    expect(JSON.stringify(evening.reasons)).toContain('can’t wait until tomorrow');
    const second: Entries = [...split, [at(7), facts.cut({ sealed: 3 })]];
    expect(ask(mayCutCells, second, at(11, 18), cold).answer).toBe('go');
  });

  it('has nothing to cut before the split, and not twice on one day', () => {
    expect(ask(mayCutCells, [], at(0))).toMatchObject({
      answer: 'wait',
      headline: 'The split has not been made',
    });
    const twice = ask(mayCutCells, [...split, [at(7), facts.cut({ sealed: 3 })]], at(7, 12));
    // The second look comes two days after the cut at the earliest.
    expect([twice.answer, dayOf(twice.untilMs)]).toEqual(['wait', 9]);
    expect(ask(mayCutCells, [...split, [at(7), facts.cut({ sealed: 3 })]], at(9)).answer).toBe('go');
    const again: Entries = [...split, [at(7), facts.cut({ sealed: 3 })], [at(10), facts.cut()]];
    expect(ask(mayCutCells, again, at(10, 12)).answer).toBe('wait');
    const eggs = facts.inspection({ youngestBrood: 'eggs', everyFrameChecked: false });
    expect(ask(mayCutCells, [...again, [at(4), eggs]], at(10, 12)).answer).toBe('wait');
    const left: Entries = [
      ...split,
      [at(7), facts.inspection({ cells: { open: 0, sealed: 4, emerged: 0, tornDown: 0 } })],
    ];
    expect(ask(mayCutCells, left, at(7, 12)).answer).toBe('go');
  });

  it('is too early while brood was seen that cells can be started from, whoever laid it', () => {
    const log = [
      [at(0, 0), facts.split()],
      [at(6), facts.inspection({ youngestBrood: 'young-larvae', layingQueenSeen: true })],
    ] as const;
    const eggs = facts.inspection({ youngestBrood: 'eggs', everyFrameChecked: false });
    const now = at(7);
    const before = mayCutCells(stateAt(log, now), noEvidence, now);
    const gate = mayCutCells(stateAt([...log, [at(7), eggs]], now), noEvidence, now);
    expect([before.answer, gate.answer]).toEqual(['wait', 'wait']);
    // The eggs of day 7 were laid on day 3 at the earliest.
    expect(gate.untilMs).toBe(at(10, 0));
    expect(reason(gate, 'brood was seen')?.ok).toBe(false);
  });

  it.each([facts.broodAdded({ asTestFrame: true }), facts.broodAdded()])(
    'is too early for the larvae of a frame that was brought in, also where an egg contradicts the log: %j',
    (frame) => {
      const log = [
        [at(0, 0), facts.split()],
        [at(5), frame],
      ] as const;
      const eggs = facts.inspection({ youngestBrood: 'eggs', everyFrameChecked: false });
      const gate = mayCutCells(stateAt([...log, [at(4), eggs]], at(11)), noEvidence, at(11));
      expect([gate.answer, dayOf(gate.untilMs)]).toEqual(['wait', 12]);
    },
  );

  it('can’t promise that a cut counts where the last egg has no date', () => {
    const gate = ask(mayCutCells, [[at(0), facts.split({ oldQueen: 'not-seen' })]], at(7));
    expect(reason(gate, 'The last egg has no date')?.ok).toBe('unknown');
    expect(reason(gate, 'A virgin may be in the box')).toBeUndefined();
  });

  it('warns from day 8½ on of a virgin that may have emerged, and before of one that may be there', () => {
    expect(reason(ask(mayCutCells, split, at(9)), 'opened tips')?.ok).toBe(false);
    const swarm: Entries = [[at(0), facts.split({ cellsAlreadyThere: 'present-and-left' })]];
    expect(reason(ask(mayCutCells, swarm, at(7)), 'were left')?.ok).toBe(false);
  });
});

describe('hang the cage', () => {
  const arrived: Entries = [...split, [at(5), facts.arrived()]];

  it('goes where a queen is at hand and the nuc is queenless', () => {
    const gate = ask(mayHangCage, arrived, at(5, 11));
    expect(gate.answer).toBe('go');
    expect(reason(gate, 'at hand')?.ok).toBe(true);
  });

  it('waits where too few bees are left, by the scale or by the split', () => {
    const weak = { strength: { text: 'About 1 frame of bees.', enough: false } } as const;
    expect(ask(mayHangCage, arrived, at(5, 11), weak)).toMatchObject({
      answer: 'wait',
      headline: 'Too few bees to keep her warm',
    });
    const strong = { strength: { text: 'About 4 frames of bees.', enough: true } } as const;
    expect(ask(mayHangCage, arrived, at(5, 11), strong).answer).toBe('go');
    const unsure = { strength: { text: 'Bees can’t be told.', enough: 'unknown' } } as const;
    expect(reason(ask(mayHangCage, arrived, at(5, 11), unsure), 'can’t be told')?.ok).toBe('unknown');
    const small: Entries = [[at(0), facts.split({ framesOfBees: 1 })]];
    expect(ask(mayHangCage, small, at(5)).headline).toBe('Too few bees to keep her warm');
  });

  it('waits out a night that is too cold', () => {
    const night = (tooCold: boolean | 'unknown') => ({
      outlook: { text: 'Tonight 12 °C at the cage.', tooCold },
    });
    expect(ask(mayHangCage, arrived, at(5, 11), night(true))).toMatchObject({
      answer: 'wait',
      headline: 'Too cold tonight',
    });
    expect(reason(ask(mayHangCage, arrived, at(5, 11), night(false)), 'Tonight')?.ok).toBe(true);
    expect(reason(ask(mayHangCage, arrived, at(5, 11), night('unknown')), 'Tonight')?.ok).toBe('unknown');
  });

  it('stops where another queen is or may be', () => {
    expect(ask(mayHangCage, cleanEntries, at(9)).headline).toBe('A cage hangs already');
    const virgin: Entries = [...split, [at(9), facts.inspection({ virginSeen: true })]];
    expect(ask(mayHangCage, virgin, at(9, 11)).headline).toBe('A virgin is in the box');
    const workers: Entries = [...split, [at(9), facts.inspection({ severalEggsACell: true })]];
    expect(ask(mayHangCage, workers, at(9, 11)).headline).toBe('Laying workers');
  });

  it('hangs nothing before the split, and says so where nobody counted the frames', () => {
    expect(ask(mayHangCage, [], at(0)).headline).toBe('The split has not been made');
    const state = stateAt([[at(0), facts.inspection({ youngestBrood: 'none' })]], at(1), {
      startingPoint: 'hopelessly-queenless',
    });
    expect(reason(mayHangCage(state, noEvidence, at(1)), 'how many frames')?.ok).toBe('unknown');
  });
});

describe('look for the queen', () => {
  const opened: Entries = [...cleanEntries, [at(10, 11), facts.opened()]];

  it('lets a trouble bring the look forward, but never under three days of candy and three full days', () => {
    const trouble = { trouble: 'bees left in a mass this noon' };
    expect(ask(mayLookForQueen, opened, at(12), trouble).answer).toBe('stop');
    expect(ask(mayLookForQueen, opened, at(15), trouble).answer).toBe('stop');
    expect(ask(mayLookForQueen, opened, at(16, 12), trouble).answer).toBe('go');
  });

  it('stays shut while it is robbed, whatever the day', () => {
    const robbing = { robbing: 'Robbing is under way: 400 g lost by day.' };
    expect(ask(mayLookForQueen, opened, at(18)).answer).toBe('go');
    expect(ask(mayLookForQueen, opened, at(18), robbing)).toMatchObject({
      answer: 'wait',
      headline: 'Being robbed: look later',
    });
    expect(ask(mayLookForQueen, opened, at(12), robbing).answer).toBe('stop');
  });

  it('wants weather that is fit', () => {
    const weather = (fitToOpen: boolean | 'unknown') => ({
      weather: { text: 'Rain until evening.', fitToOpen },
    });
    expect(ask(mayLookForQueen, opened, at(18), weather(false))).toMatchObject({
      answer: 'wait',
      headline: 'Not in this weather',
    });
    expect(ask(mayLookForQueen, opened, at(18), weather('unknown')).answer).toBe('go');
    expect(ask(mayLookForQueen, opened, at(18), weather(true)).answer).toBe('go');
  });

  it('has no queen to look for before the candy is open', () => {
    expect(ask(mayLookForQueen, cleanEntries, at(10, 12)).headline).toBe('The candy is not open yet');
  });
});

describe('open the candy', () => {
  it('says that foragers are still there, and goes all the same', () => {
    const gate = ask(mayOpenCandy, cleanEntries, at(10, 12), leaving);
    expect([gate.answer, reason(gate, 'still leaving')?.ok]).toEqual(['go', false]);
  });

  it('stays shut, says why and plans no look where the limit can’t be read', () => {
    const gate = ask(mayOpenCandy, cleanEntries, at(11, 12), { chanceLimit: null });
    expect(gate.answer).not.toBe(ask(mayOpenCandy, cleanEntries, at(11, 12)).answer);
    expect(JSON.stringify(gate)).toContain('standingCellLimit');
  });

  it('takes the keeper’s own limit for the chance of a standing cell', () => {
    const strict = ask(mayOpenCandy, cleanEntries, at(10, 12), { chanceLimit: 0.01 });
    expect(strict).toMatchObject({ answer: 'wait', headline: 'One more look first' });
    expect(strict.oneMoreLook!.chanceIfNothingFound).toBeLessThan(strict.oneMoreLook!.chanceNow / 2);
    expect(strict.oneMoreLook!.chanceOfFinding).toBeGreaterThan(0);
    expect(strict.chanceOfStandingCell).toBe(strict.oneMoreLook!.chanceNow);
    expect(dayOf(strict.untilMs)).toBe(11);
    // On day 11 nothing holds it up any more but the look itself.
    expect(ask(mayOpenCandy, cleanEntries, at(11, 12), { chanceLimit: 0.01 }).untilMs).toBeUndefined();
  });

  it('can be overridden with a reason, and keeps its own answer', () => {
    const override = { kind: 'gate-overridden', gate: 'open-candy', reason: 'no other day to come' } as const;
    const gate = ask(mayOpenCandy, [...cleanEntries.slice(0, 3), [at(8), override]], at(8, 11));
    expect(gate).toMatchObject({
      answer: 'wait',
      overridden: { reason: 'no other day to come', atMs: at(8) },
    });
    expect(
      ask(mayOpenCandy, [...cleanEntries, [at(10, 11), override]], at(10, 12)).overridden,
    ).toBeUndefined();
  });

  it.each([
    ['a dead queen', [at(10, 11), { kind: 'queen-dead' }], 'The queen is dead'],
    [
      'a closed introduction',
      [at(10, 11), { kind: 'outcome', outcome: 'given-up' }],
      'This introduction is closed',
    ],
    ['an open candy end', [at(10, 11), facts.opened()], 'Already open'],
    ['an empty cage', [at(10, 11), facts.looked({ eggsSeen: false })], 'The queen is out'],
    ['a queen taken out again', [at(10, 11), { kind: 'cage-taken-out' }], 'No queen hangs in the nuc'],
    ['hostile bees', [at(10, 11), facts.inspection({ temperament: 'hostile' })], 'The bees are hostile'],
    [
      'a test frame that is in',
      [at(10, 11), facts.broodAdded({ asTestFrame: true })],
      'Take the test frame out first',
    ],
  ] as const)('is barred by %s', (_what, entry, headline) => {
    expect(ask(mayOpenCandy, [...cleanEntries, entry], at(10, 12)).headline).toBe(headline);
  });

  it.each([
    ['too short', 10.4, 0],
    ['too long', 19, 2],
    ['not counted', 12.5, undefined],
  ])('gets no answer from a test frame that was %s', (_what, outDay, cellsOnIt) => {
    const out = facts.broodTaken(cellsOnIt === undefined ? {} : { cellsOnIt });
    const outMs = at(Math.floor(outDay), 10 + (outDay % 1) * 10);
    const gate = ask(
      mayOpenCandy,
      [...cleanEntries, [at(10, 11), facts.broodAdded({ asTestFrame: true })], [outMs, out]],
      outMs + 3_600_000,
    );
    expect(reason(gate, 'gave no answer')?.ok).toBe('unknown');
  });

  it('says why a virgin is excluded, with figures and sources', () => {
    const gate = ask(mayOpenCandy, cleanEntries, at(10, 12));
    expect(gate.answer).toBe('go');
    for (const { figure } of gate.reasons) if (figure) expect(figure.source.length).toBeGreaterThan(5);
    expect(gate.reasons.filter(({ figure }) => figure).length).toBeGreaterThanOrEqual(4);
  });

  it('knows no late cut where the last egg has no date', () => {
    const gate = ask(
      mayOpenCandy,
      [
        [at(0), facts.split({ oldQueen: 'not-seen' })],
        [at(6), facts.hung()],
      ],
      at(9),
    );
    expect(reason(gate, 'the last egg has no date yet')?.ok).toBe(false);
  });
});
