/**
 * Once 21 days have passed without a queen workers may lay (common practice): above the limit a look on every frame comes
 * before she is let out. Eggs last three days (Mussen et al. 1987), so a second look on the next days tells no more.
 */
import { answerFor } from '../../server/introduction/acts/answer.ts';
import { workersMayLay } from '../../server/introduction/acts/rows/worker-conditions.ts';
import { split, table, type Entries, type Setup } from './support/conditions.ts';
import { at, facts } from './support/field-log.ts';

const once: Entries = [split, [at(7), facts.cut({ sealed: 8 })]];
const looked: Entries = [...once, [at(10), facts.cut()]];
const hungOn = (day: number): Entries[number] => [at(day), facts.hung()];
const none = (day: number): Entries[number] => [at(day), facts.inspection({ youngestBrood: 'none' })];
const eggs = (day: number, over: Parameters<typeof facts.inspection>[0] = {}): Entries[number] => [
  at(day),
  facts.inspection({ youngestBrood: 'eggs', ...over }),
];
const mesh: Setup = { method: 'push-in-cage' };
const look = ['wait', { first: 'look-through' }] as const;
const lookOn = (day: number) =>
  ['wait', { first: 'look-through', fromMs: at(day, 0), untilMs: at(day, 0) }] as const;
const whose = 'she may have laid them: look whether any stand outside the mesh';

table('the chance that workers lay', (state) => workersMayLay(answerFor(state).situation), [
  { name: 'before the 21 days are over', log: looked, now: at(20, 23), says: null },
  { name: 'as they are over: none has begun', log: looked, now: at(21), says: 'met', text: 'under 0.5 %' },
  {
    name: 'she was hung five days later, and nobody looked since the cuts',
    log: [...looked, hungOn(26)],
    now: at(27),
    says: look,
    text: 'for a cell that was missed; over 5.0 %. Look on every frame for eggs',
  },
  {
    name: 'the second look was not made: of cells nothing is said yet',
    log: [...once, hungOn(26)],
    now: at(27),
    says: look,
    text: '39 %; over 5.0 %. Look on every frame for eggs',
  },
  {
    name: 'cells were found at the second look: the look for those comes first',
    log: [...once, [at(10), facts.cut({ sealed: 3 })], hungOn(26)],
    now: at(27),
    says: 'met',
  },
  {
    name: 'no egg today, and too late for one look to be enough: again when an egg would have hatched',
    log: [...looked, hungOn(40), none(41)],
    now: at(41, 12),
    says: lookOn(45),
    text: 'longer after the last look than an egg lasts',
  },
  {
    name: 'no egg yesterday: the same day as it said then',
    log: [...looked, hungOn(40), none(41)],
    now: at(42, 12),
    says: lookOn(45),
    text: 'longer after the last look than an egg lasts',
  },
  {
    name: 'no egg four days ago',
    log: [...looked, hungOn(40), none(41)],
    now: at(45, 9),
    says: look,
    text: 'Look on every frame for eggs and for drone brood in worker cells.',
  },

  // Under mesh she lays herself.
  {
    name: 'eggs under mesh, and nobody said where',
    log: [...looked, hungOn(26), eggs(30)],
    now: at(30, 12),
    over: mesh,
    says: look,
    text: whose,
  },
  {
    name: 'eggs seen at a cut',
    log: [...looked, hungOn(26), [at(30), facts.cut({}, { youngestBrood: 'eggs' })]],
    now: at(30, 12),
    over: mesh,
    says: look,
    text: whose,
  },
  {
    name: 'and cells were looked for once more that day',
    log: [...looked, hungOn(26), eggs(30), [at(30, 11), facts.cut()]],
    now: at(30, 12),
    over: mesh,
    says: look,
    text: whose,
  },
  {
    name: 'eggs seen yesterday: they are looked for anew',
    log: [...looked, hungOn(26), eggs(30)],
    now: at(31, 12),
    over: mesh,
    says: look,
    text: 'Look on every frame for eggs',
  },
  {
    name: 'nobody looked since she is under the mesh',
    log: [split, hungOn(26)],
    now: at(27),
    over: mesh,
    says: look,
    text: 'Look on every frame for eggs',
  },
  {
    name: 'no egg under the mesh nor beside it',
    log: [...looked, hungOn(40), none(41)],
    now: at(41, 12),
    over: mesh,
    says: lookOn(45),
  },
  {
    name: 'eggs, and she is not pressed under it yet: they are not hers',
    log: [...looked, eggs(30), [at(30, 11), facts.arrived()]],
    now: at(30, 12),
    over: mesh,
    says: 'met',
  },
  {
    name: 'cells alone were looked for today, and nobody looked for eggs',
    log: [...looked, hungOn(26), [at(30), facts.cut()]],
    now: at(30, 12),
    over: mesh,
    says: look,
    text: 'Look on every frame for eggs',
  },
  {
    name: 'a candy cage hangs, and the eggs seen are those of the test frame',
    log: [...looked, hungOn(26), [at(29), facts.broodAdded({ asTestFrame: true })], eggs(30)],
    now: at(30, 12),
    says: look,
    text: 'Look on every frame for eggs',
  },
  {
    name: 'the mesh is to be pressed over her, and the eggs seen are those of the test frame',
    log: [...looked, [at(26), facts.arrived()], [at(29), facts.broodAdded({ asTestFrame: true })], eggs(30)],
    now: at(30, 12),
    over: mesh,
    says: look,
    text: 'Look on every frame for eggs',
  },
  {
    name: 'eggs beside a candy cage are not hers',
    log: [...looked, hungOn(26), eggs(30)],
    now: at(30, 12),
    says: 'met',
  },
]);
