/**
 * Where the queen is and what is known of her, entry by entry. Bees need 12 to 72 h for the candy (common practice): within
 * those a queen in her cage is on her way, after them she is stuck. Who was seen outside is not in the cage.
 */
import { describe, expect, it } from 'vitest';
import { at, facts } from './support/field-log.ts';
import {
  came,
  cageOut,
  check,
  dead,
  escaped,
  frame,
  hung,
  looked,
  opened,
  out,
  queenOf,
  through,
  type Entries,
  type Row,
} from './support/queen-log.ts';

describe('in the cage and out of it', () => {
  it.each<Row>([
    {
      name: 'seen in it while the bees eat: on her way, and nobody has looked for her',
      log: [...out, looked(11, { cageEmpty: false, queenSeen: true })],
      is: { where: 'released', stillInCageAtMs: at(11), lastLookedAtMs: null, notFoundAtMs: [] },
    },
    {
      name: 'in it after the days of the candy: stuck',
      log: [...out, looked(14, { cageEmpty: false, queenSeen: true })],
      is: { where: 'in-cage', inCageSinceMs: at(7), stillInCageAtMs: null, lastLookedAtMs: at(14) },
    },
    {
      name: 'her cage not empty, nobody seen: stuck, not missing',
      log: [...out, looked(14, { cageEmpty: false })],
      is: { where: 'in-cage', notFoundAtMs: [] },
    },
    {
      name: 'stuck, then out by the same way',
      log: [...out, looked(14, { cageEmpty: false }), looked(17, { queenSeen: true })],
      is: { where: 'seen-loose', releasedAtMs: at(10), outByAccident: false, cageEmptyAtMs: at(17) },
    },
    {
      name: 'stuck, then her way is opened anew: her days outside begin then',
      log: [...out, looked(14, { cageEmpty: false }), opened(15)],
      is: { where: 'released', releasedAtMs: at(15) },
    },
    {
      name: 'opened twice: they begin with the first',
      log: [...out, opened(11)],
      is: { where: 'released', releasedAtMs: at(10) },
    },
    {
      name: 'eggs, and her cage not empty: nobody can say whose',
      log: [...out, looked(14, { cageEmpty: false, queenSeen: true, eggsSeen: true })],
      is: { where: 'released', eggsBesideCageAtMs: at(14), firstEggsAtMs: null, lastSeenAtMs: null },
    },
    {
      name: 'eggs once she was seen outside, attendants in the cage: hers',
      log: [...out, looked(14, { queenSeen: true }), looked(16, { cageEmpty: false, eggsSeen: true })],
      is: { where: 'released', eggsBesideCageAtMs: null, firstEggsAtMs: at(16) },
    },
    {
      name: 'seen outside, and days later the cage is not empty: not she',
      log: [...out, looked(14, { queenSeen: true }), looked(16, { cageEmpty: false })],
      is: { where: 'released', inCageSinceMs: null },
    },
    {
      name: 'seen outside within the day, and again with attendants in the cage',
      log: [...out, looked(11, { queenSeen: true }), looked(12, { cageEmpty: false, queenSeen: true })],
      is: { where: 'seen-loose', lastSeenAtMs: at(12) },
    },
    {
      name: 'after the mesh was lifted she is out, whatever is left of her cage',
      log: [hung(7), cageOut(11), looked(12, { cageEmpty: false, queenSeen: true })],
      method: 'push-in-cage',
      is: { where: 'seen-loose', inCageSinceMs: null, lastLookedAtMs: at(12), stillInCageAtMs: null },
    },
    {
      name: 'after the mesh was lifted eggs are hers',
      log: [hung(7), cageOut(11), looked(13, { cageEmpty: false, eggsSeen: true })],
      method: 'push-in-cage',
      is: { where: 'released', firstEggsAtMs: at(13), eggsBesideCageAtMs: null },
    },
    {
      name: 'after the mesh was lifted, not seen beside a cage that nobody emptied',
      log: [hung(7), cageOut(11), looked(15, { cageEmpty: false })],
      method: 'push-in-cage',
      is: { where: 'released', inCageSinceMs: null },
    },
    {
      name: 'under mesh an open candy end lets nobody out',
      log: [hung(7, 'queen-one', { candyEnd: 'open' })],
      method: 'push-in-cage',
      is: { where: 'in-cage', releasedAtMs: null },
    },
    {
      name: 'the candy is open from the start',
      log: [hung(7, 'queen-one', { candyEnd: 'open' })],
      is: { where: 'released', releasedAtMs: at(7) },
    },
    {
      name: 'seen in the cage before it is opened',
      log: [hung(7), [at(8), facts.atCage()]],
      is: { where: 'in-cage', stillInCageAtMs: null, lastSeenAtMs: at(8) },
    },
    {
      name: 'seen in the cage after it is opened',
      log: [...out, [at(11), facts.atCage()]],
      is: { where: 'released', stillInCageAtMs: at(11) },
    },
    {
      name: 'out of a cage that nobody opened',
      log: [hung(7), looked(12)],
      is: { where: 'released', releasedAtMs: at(12), outByAccident: true },
    },
    {
      name: 'escaped into the nuc',
      log: [hung(7), escaped(8, 'into-the-nuc')],
      is: { where: 'released', releasedAtMs: at(8), outByAccident: true },
    },
    {
      name: 'on her way out already when she slips past: no accident',
      log: [...out, escaped(11, 'into-the-nuc')],
      is: { where: 'released', releasedAtMs: at(10), outByAccident: false },
    },
    {
      name: 'flown off, not seen again',
      log: [...out, escaped(11, 'outside'), looked(15)],
      is: { where: 'gone' },
    },
    {
      name: 'flown off in the minute in which she came',
      log: [came(1), escaped(1, 'outside')],
      is: { where: 'gone' },
    },
    {
      name: 'flown off in the visit in which her cage was taken out',
      log: [hung(7), cageOut(9, 'in-the-cage'), escaped(9, 'outside')],
      is: { where: 'gone' },
    },
    {
      name: 'slipped out in the visit in which she was caught and hung again',
      log: [hung(7), escaped(9, 'into-the-nuc'), hung(9)],
      is: { where: 'in-cage', inCageSinceMs: at(9) },
    },
    {
      name: 'flown off, and eggs a week later: she came back',
      log: [...out, escaped(11, 'outside'), looked(18, { eggsSeen: true })],
      is: { where: 'released', firstEggsAtMs: at(18) },
    },
    { name: 'dead, and looked for', log: [...out, dead(12), looked(15)], is: { where: 'dead' } },
  ])('$name', check);
});

describe('met at an inspection', () => {
  it.each<Row>([
    {
      name: 'a laying queen outside: she',
      log: [...out, through(17, { layingQueenSeen: true })],
      is: { where: 'seen-loose', lastSeenAtMs: at(17), firstEggsAtMs: null, sealedWorkerBroodAtMs: null },
    },
    {
      name: 'a laying queen and eggs',
      log: [...out, through(17, { layingQueenSeen: true, youngestBrood: 'eggs' })],
      is: { firstEggsAtMs: at(17), sealedWorkerBroodAtMs: null },
    },
    {
      name: 'a laying queen, and the eggs stand on the walls',
      log: [...out, through(17, { layingQueenSeen: true, youngestBrood: 'eggs', eggsStand: 'walls' })],
      is: { where: 'seen-loose', firstEggsAtMs: null },
    },
    {
      name: 'a laying queen, and several eggs in a cell',
      log: [...out, through(17, { layingQueenSeen: true, youngestBrood: 'eggs', severalEggsACell: true })],
      is: { where: 'seen-loose', firstEggsAtMs: null },
    },
    {
      name: 'no queen, and nothing of hers was seen before: no look for her',
      log: [...out, through(17, { youngestBrood: 'none' })],
      is: { where: 'released', lastLookedAtMs: null, notFoundAtMs: [] },
    },
    ...(['sealed-only', 'none'] as const).map((youngestBrood) => ({
      name: `she laid, and of brood there is ${youngestBrood}: not found`,
      log: [...out, looked(17, { queenSeen: true, eggsSeen: true }), through(30, { youngestBrood })],
      is: { lastLookedAtMs: at(30), notFoundAtMs: [at(30)] },
    })),
    ...(['old-larvae', 'eggs', 'not-looked'] as const).map((youngestBrood) => ({
      name: `she laid, and of brood there is ${youngestBrood}: nothing against her`,
      log: [...out, looked(17, { queenSeen: true, eggsSeen: true }), through(30, { youngestBrood })],
      is: { lastLookedAtMs: at(17), notFoundAtMs: [] },
    })),
    {
      name: 'she laid, and no brood on the frames that were looked at',
      log: [
        ...out,
        looked(17, { queenSeen: true, eggsSeen: true }),
        through(30, { youngestBrood: 'none', everyFrameChecked: false }),
      ],
      is: { notFoundAtMs: [] },
    },
  ])('$name', check);

  it('while the candy holds another queen than she', () => {
    const log: Entries = [...out, [at(10, 14), facts.inspection({ layingQueenSeen: true })]];
    expect(queenOf(log)).toMatchObject({ where: 'released', lastSeenAtMs: null });
  });
});

describe('not found', () => {
  it.each<Row>([
    { name: 'once', log: [...out, looked(17)], is: { where: 'released', notFoundAtMs: [at(17)] } },
    {
      name: 'twice',
      log: [...out, looked(17), looked(21)],
      is: { where: 'released', notFoundAtMs: [at(17), at(21)] },
    },
    {
      name: 'and then she is',
      log: [...out, looked(17), looked(21, { queenSeen: true })],
      is: { where: 'seen-loose', notFoundAtMs: [] },
    },
    { name: 'where no queen was let out', log: [looked(5)], is: { where: 'not-here', notFoundAtMs: [] } },
    {
      name: 'while she hangs in her cage: nobody was missed',
      log: [hung(7), looked(9, { cageEmpty: false })],
      is: { where: 'in-cage', notFoundAtMs: [] },
    },
    {
      name: 'and cells on a test frame: gone',
      log: [...out, looked(17), ...frame(18, 20, 3)],
      is: { where: 'gone', notFoundAtMs: [] },
    },
    {
      name: 'and cells on a test frame that was given at the same visit',
      log: [...out, looked(17), ...frame(17, 19, 3)],
      is: { where: 'gone', notFoundAtMs: [] },
    },
    {
      name: 'and cells on a test frame that was in before: it may tell of her days in the cage',
      log: [
        ...out,
        [at(16), facts.broodAdded({ asTestFrame: true })],
        looked(17),
        [at(18), facts.broodTaken({ cellsOnIt: 3 })],
      ],
      is: { where: 'released', notFoundAtMs: [at(17)] },
    },
    {
      name: 'and no cell on one frame, then cells on the next',
      log: [...out, looked(17), ...frame(18, 20, 0), ...frame(21, 23, 2)],
      is: { where: 'gone' },
    },
    {
      name: 'nobody looked for her: cells on a test frame say nothing of where she is',
      log: [...out, ...frame(18, 20, 3)],
      is: { where: 'released', notFoundAtMs: [] },
    },
    {
      name: 'and a frame of brood is taken out that was no test',
      log: [...out, looked(17), [at(18), facts.broodTaken({ asTestFrame: false })]],
      is: { where: 'released', notFoundAtMs: [at(17)] },
    },
  ])('$name', check);
});
