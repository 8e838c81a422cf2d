/** What is asked for soon is planned for today, and overdue where it was not done within the day after it was first asked. */
import { describe, expect, it } from 'vitest';
import { answerFor } from '../../server/introduction/acts/answer.ts';
import type { ActKind } from '../../server/introduction/acts/draft.ts';
import { dayNumber } from '../../server/introduction/calendar.ts';
import type { Entries } from './support/conditions.ts';
import { at, facts, stateAt, zone } from './support/field-log.ts';

const split = [at(0), facts.split()] as const;
const came = [at(1), facts.arrived()] as const;
const cut = [at(7), facts.cut({ open: 1, sealed: 8 })] as const;
const course: Entries = [split, cut, [at(7, 10.5), facts.hung()], [at(10), facts.cut()]];
const bites = (day: number): Entries[number] => [at(day, 10.5), facts.atCage({ behaviour: 'biting' })];
const sick = [at(2), { kind: 'brood-disease', found: 'signs' }] as const;
const out: Entries = [...course, [at(10, 11), facts.opened()]];

interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly act: ActKind;
  readonly now: number;
  /** The last day for it. */
  readonly latest: number;
}
const rows: readonly Row[] = [
  {
    name: 'too few bees since the split',
    log: [[at(0), facts.split({ framesOfBees: 1 })]],
    act: 'add-bees',
    now: 5,
    latest: 1,
  },
  {
    name: 'too few bees at two counts',
    log: [
      split,
      [at(3), facts.inspection({ framesOfBees: 1, everyFrameChecked: false })],
      [at(5), facts.inspection({ framesOfBees: 1, everyFrameChecked: false })],
    ],
    act: 'add-bees',
    now: 6,
    latest: 4,
  },
  {
    name: 'they bit, and are watched the next day',
    log: [...course, bites(10)],
    act: 'watch-cage',
    now: 14,
    latest: 12,
  },
  {
    name: 'they were hostile',
    log: [...course, [at(11), facts.inspection({ temperament: 'hostile', everyFrameChecked: false })]],
    act: 'watch-cage',
    now: 14,
    latest: 12,
  },
  {
    name: 'a queen was balled, and the cause looked for',
    log: [
      ...course,
      [at(11), { kind: 'balled', rescued: true }],
      [at(11, 11), facts.hung()],
      [at(11, 12), facts.inspection()],
    ],
    act: 'watch-cage',
    now: 18,
    latest: 15,
  },
  {
    name: 'a queen was balled, and nobody looked for the cause',
    log: [...course, [at(11), { kind: 'balled', rescued: true }], [at(11, 11), facts.hung()]],
    act: 'one-more-look',
    now: 15,
    latest: 12,
  },
  {
    name: 'bit for a second day, and nobody looked for the cause',
    log: [...course, bites(11), bites(12), bites(14)],
    act: 'one-more-look',
    now: 15,
    latest: 13,
  },
  {
    name: 'a virgin was seen',
    log: [...course, [at(12), facts.inspection({ virginSeen: true })]],
    act: 'take-queen-out',
    now: 16,
    latest: 13,
  },
  {
    name: 'a virgin was seen beside her',
    log: [...out, [at(17), facts.inspection({ virginSeen: true, everyFrameChecked: false })]],
    act: 'take-queen-out',
    now: 20,
    latest: 18,
  },
  {
    name: 'a test frame came out without a cell',
    log: [
      ...course,
      [at(11), facts.broodAdded({ asTestFrame: true })],
      [at(13), facts.broodTaken({ cellsOnIt: 0 })],
    ],
    act: 'take-queen-out',
    now: 16,
    latest: 14,
  },
  { name: 'signs of disease', log: [split, came, sick], act: 'call-inspector', now: 6, latest: 3 },
  {
    name: 'a living cell was seen since she was let out',
    log: [...out, [at(17), facts.looked({ cells: { open: 0, sealed: 1 } })]],
    act: 'cut-after-release',
    now: 20,
    latest: 18,
  },
  {
    name: 'bit for a second day before the cut',
    log: [split, [at(1), facts.hung()], bites(2), bites(3)],
    act: 'look-through',
    now: 6,
    latest: 4,
  },
  {
    name: 'workers may lay for days, and she comes today',
    log: [split, cut, [at(10), facts.cut()], [at(25, 9), facts.arrived()]],
    act: 'look-through',
    now: 25,
    latest: 26,
  },
  {
    name: 'a queen was balled, and nobody looked for the cause; a look is made as she is let out',
    log: [
      ...course,
      [at(11), facts.opened()],
      [at(15), { kind: 'balled', rescued: true }],
      [at(15, 12), facts.hung()],
    ],
    act: 'one-more-look',
    now: 18,
    latest: 16,
  },
  {
    name: 'an emerged cell was found at the cut: within four days of it',
    log: [split, [at(10), facts.cut({ sealed: 3, emerged: 1 })]],
    act: 'test-frame-in',
    now: 16,
    latest: 14,
  },
  {
    name: 'a frame came out, and nobody logged the cells on it: within four days of that',
    log: [
      split,
      [at(10), facts.cut({ sealed: 3, emerged: 1 })],
      [at(11), facts.broodAdded({ asTestFrame: true })],
      [at(13), { kind: 'brood-frame-taken', asTestFrame: true }],
    ],
    act: 'test-frame-in',
    now: 20,
    latest: 17,
  },
  {
    name: 'she was not found by two looks: within four days of the second',
    log: [
      ...out,
      [at(17), facts.looked({ queenSeen: false, eggsSeen: false })],
      [at(22), facts.looked({ queenSeen: false, eggsSeen: false })],
    ],
    act: 'test-frame-in',
    now: 29,
    latest: 26,
  },
  {
    name: 'workers may lay from day 21 on, and she was to be let out with a look by day 17',
    log: [...course.slice(0, 3), [at(10), facts.cut({}, { youngestBrood: 'sealed-only' })]],
    act: 'one-more-look',
    now: 22,
    latest: 17,
  },
  {
    name: 'workers may lay for days, and the cells from brood that was given may be cut from today on',
    log: [split, cut, [at(10), facts.cut()], [at(16), facts.broodAdded()]],
    act: 'cut-cells',
    now: 23,
    latest: 23,
  },
];

describe('what is asked for soon', () => {
  it.each(rows)('$name: $act', ({ log, act, now, latest }) => {
    const step = answerFor(stateAt(log, at(now, 9.5))).plan.find(({ kind }) => kind === act);
    const day = (ms: number | undefined): number | null =>
      ms === undefined ? null : dayNumber(at(0), ms, zone);
    expect([day(step?.targetMs), day(step?.latestMs)]).toEqual([now, latest]);
    expect(step?.earliestMs).toBeLessThanOrEqual(step?.latestMs ?? NaN);
  });
});
