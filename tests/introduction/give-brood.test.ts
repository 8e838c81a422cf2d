/**
 * Open brood for a nuc that waits for its queen. Common practice: workers may lay after 21 days without one; open brood is
 * given up to a week before that, and not within a week before she comes, for its cells are cut 7 days later.
 */
import { describe } from 'vitest';
import { frame, split, type Entries } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { may } from './support/permissions.ts';
import { places } from './support/places.ts';

const looked: Entries = [split, [at(7), facts.cut({ sealed: 8 })], [at(10), facts.cut()]];
const comes = (day: number, hour = 10) => ({ expectedQueenMs: at(day, hour) });

describe('open brood is offered', () => {
  places('give-brood', [
    {
      name: 'no queen is on order, a week before workers may lay',
      log: looked,
      now: at(14),
      window: '14 00:00 | 14 10:00 | 15 23:59',
      offered: true,
      why: 'Open brood holds the workers back',
    },
    { name: 'an hour before that: it can wait', log: looked, now: at(14, 9), window: null },
    { name: 'she comes before workers may lay', log: looked, now: at(14), over: comes(20), window: null },
    { name: 'she comes as they may', log: looked, now: at(14), over: comes(21), window: null },
    {
      name: 'she comes later',
      log: looked,
      now: at(15),
      over: comes(24),
      window: '15 00:00 | 15 10:00',
      offered: true,
    },
    {
      name: 'she comes in a week: its cells can just be cut',
      log: looked,
      now: at(17),
      over: comes(24),
      window: '17 00:00 | 17 10:00',
      offered: true,
    },
    {
      name: 'she comes in six days: they could not be cut before her',
      log: looked,
      now: at(18),
      over: comes(24),
      window: null,
    },
    {
      name: 'her day is past, and she did not come',
      log: looked,
      now: at(18),
      over: comes(16),
      window: '18 00:00 | 18 10:00',
      offered: true,
    },
    { name: 'she hangs', log: [...looked, [at(12), facts.hung()]], now: at(15), window: null },
    { name: 'she is at hand', log: [...looked, [at(14), facts.arrived()]], now: at(15), window: null },
    {
      name: 'workers lay: none is given to them',
      log: [
        ...looked,
        ...[24, 26].map((day): Entries[number] => [
          at(day),
          facts.inspection({ youngestBrood: 'eggs', severalEggsACell: true, eggsStand: 'walls' }),
        ]),
      ],
      now: at(26, 12),
      window: null,
    },
    {
      name: 'two test frames without a cell: a queen is in it, and no worker lays beside her',
      log: [...looked, ...frame(11, 13, 0), ...frame(13, 15, 0)],
      now: at(15, 12),
      window: null,
    },
    {
      name: 'one without a cell: she is looked for first',
      log: [...looked, ...frame(12, 14, 0)],
      now: at(15, 12),
      window: null,
    },
    {
      name: 'a laying queen was seen in it: she is found first',
      log: [...looked, [at(15), facts.inspection({ layingQueenSeen: true, youngestBrood: 'eggs' })]],
      now: at(16),
      window: null,
    },
    {
      name: 'a virgin was seen in it: she is found first',
      log: [...looked, [at(15), facts.inspection({ virginSeen: true, youngestBrood: 'sealed-only' })]],
      now: at(16),
      window: null,
    },
    {
      name: 'eggs too young were seen: a frame tells first who lays',
      log: [...looked, [at(15), facts.inspection({ youngestBrood: 'eggs' })]],
      now: at(16),
      window: null,
    },
    {
      name: 'nothing tells since when it has no queen',
      log: [[at(0), facts.inspection()]],
      now: at(15),
      over: { startingPoint: 'queenless-with-cells' },
      window: null,
    },
    {
      name: 'the split is still to be made',
      log: [],
      now: at(0),
      over: { plannedSplitMs: at(2) },
      window: null,
    },
  ]);
});

describe('may a test frame come out', () => {
  const caged: Entries = [split, [at(7), facts.cut({ sealed: 8 })], [at(7, 10.5), facts.hung()]];
  const put = [at(10), facts.broodAdded({ asTestFrame: true })] as const;
  may('test-frame-out', [
    { name: 'none is in', log: caged, now: at(9), answer: 'wait', first: 'test-frame-in' },
    {
      name: 'one that is out already',
      log: [...caged, ...frame(8, 10, 3)],
      now: at(11),
      answer: 'wait',
      first: 'test-frame-in',
    },
    {
      name: 'after some hours: cells are started within a day or two',
      log: [...caged, put],
      now: at(10, 20),
      answer: 'wait',
      untilMs: at(11),
      says: 'Cells are started within one to two days',
    },
    { name: 'after a day', log: [...caged, put], now: at(11), answer: 'go' },
    {
      name: 'she was let out beside it: not before she is looked for',
      log: [...caged, [at(10), facts.cut()], put, [at(10, 11), facts.opened()]],
      now: at(12),
      answer: 'wait',
      untilMs: at(16, 11),
      says: 'She was let out beside it',
    },
  ]);
});
