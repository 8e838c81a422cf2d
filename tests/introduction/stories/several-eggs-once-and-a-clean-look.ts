import { wrote, type Story } from '../support/story.ts';

// An egg lasts three days or so: a second look that long after the first clean one finds what it passed over.
export const story: Story = {
  name: 'several eggs a cell seen once, and a clean look on every frame: a second one, before anybody unites',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none', severalEggsACell: true })],
    ['day 3, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 8, 10:00', wrote.inspection({ youngestBrood: 'none' })],
  ],
  expect: [
    { on: 'day 0, 12:00', due: ['Unite it, or shake it out'], stands: 'laying workers: Workers lay in it' },
    {
      on: 'day 3, 12:00',
      may: { 'hang the cage': 'stop' },
      says: 'Workers are laying, unless a second look',
      without: ['unite'],
      planned: { 'look-through': 7 },
      stands: 'workers may lay: Signs of laying workers were seen, and none at the last look',
    },
    {
      on: 'day 7, 12:00',
      due: ['Look through every frame'],
      without: ['unite'],
      todo: { 'look-through': ['days after the first', 'several eggs a cell'] },
    },
    { on: 'day 8, 12:00', may: { 'hang the cage': 'go' }, without: ['unite'] },
  ],
};
