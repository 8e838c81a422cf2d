/**
 * A queen that was let out is found dead: what she laid can be reared, and the next queen would meet what comes of it. The
 * days are those of any loss: cells are cut 7 days after her last egg can have been laid, and looked for again 3 days later.
 */
import { describe } from 'vitest';
import { dead, eggs, ended, flownOff, out } from './support/after-release.ts';
import { split, type Entries } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';
import { places } from './support/places.ts';

/** She laid for some days before she was found dead. */
const laid: Entries = [...out, eggs(17), dead(20)];
/** Out before the second look, and found dead before she can have laid. */
const soon: Entries = [
  split,
  [at(7), facts.cut({ sealed: 8 })],
  [at(7, 10.5), facts.hung()],
  [at(8, 11), facts.opened()],
  [at(10), { kind: 'queen-dead' }],
];

describe('the cut after her death', () => {
  places('cut-cells', [
    { name: 'her eggs were seen: a week after it', log: laid, now: at(21), window: '27 00:00 | 27 10:00' },
    {
      name: 'nobody saw eggs, and she had time to lay',
      log: [...out, dead(17)],
      now: at(18),
      window: '24 00:00 | 24 10:00',
    },
    {
      name: 'made',
      log: [...laid, [at(27), facts.cut({ sealed: 4 })]],
      now: at(28),
      window: '27 00:00 | 27 10:00',
      done: true,
    },
    {
      name: 'she had no time to lay: the cut of day 7 counts',
      log: soon,
      now: at(10, 12),
      window: '7 00:00 | 7 10:00',
      done: true,
    },
    { name: 'closed', log: [...laid, ended(20)], now: at(21), window: null },
    {
      name: 'she flew off: the next introduction has its own cut',
      log: [...out, eggs(17), flownOff(20)],
      now: at(21),
      window: null,
    },
    {
      name: 'she is out and lays',
      log: [...out, eggs(17)],
      now: at(18),
      window: '7 00:00 | 7 10:00',
      done: true,
    },
  ]);
});

describe('the second look after her death', () => {
  places('second-look', [
    { name: 'three days after that cut', log: laid, now: at(21), window: '29 00:00 | 30 10:00 | 31 23:59' },
    {
      name: 'it was not made before she was let out: now it is',
      log: soon,
      now: at(10, 12),
      window: '9 00:00 | 10 10:00 | 11 23:59',
    },
  ]);
});

describe('one more look after her death', () => {
  places('one-more-look', [
    {
      name: 'cells were found at the second look: in the visit in which the next one could be let out at the soonest',
      log: [
        ...soon.slice(0, 3),
        [at(10), facts.cut({ sealed: 2 })],
        [at(10, 11), facts.opened()],
        [at(11), { kind: 'queen-dead' }],
      ],
      now: at(11, 12),
      window: '11 00:00 | 13 10:00',
      why: 'Chance that a dangerous cell was missed',
    },
  ]);
});

describe('her brood after her death', () => {
  places('look-through', [
    {
      name: 'nobody saw eggs: a look now saves a week',
      log: [...out, dead(17)],
      now: at(18, 9),
      window: '18 00:00 | 18 10:00',
      why: 'A queen was out for days and may have laid',
    },
    { name: 'her eggs were seen', log: laid, now: at(21), window: null },
  ]);
});
