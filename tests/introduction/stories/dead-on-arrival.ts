import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'dead on arrival: no cage to hang, until the next queen comes',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 6, 12:00', wrote.arrived({ condition: 'dead' })],
    ['day 9, 12:00', wrote.arrived({ queenId: 'queen-two' })],
  ],
  expect: [
    {
      on: 'day 7, 11:00',
      may: { 'hang the cage': 'wait', 'cut the cells': 'go' },
      notDue: ['Hang the cage'],
      offered: ['The next queen arrives'],
      without: ['hang-cage', 'open-candy'],
      todo: { 'queen-arrives': ['A free queen of another delivery may serve'] },
    },
    { on: 'day 9, 13:00', may: { 'hang the cage': 'go' }, due: ['Hang the cage'] },
  ],
};
