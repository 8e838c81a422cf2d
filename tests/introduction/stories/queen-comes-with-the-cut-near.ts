import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen comes two days before the cut: she waits in her mailing cage and hangs in that visit',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 5, 12:00', wrote.arrived()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
  ],
  expect: [
    {
      on: 'day 5, 13:00',
      may: { 'hang the cage': 'go' },
      notDue: ['Hang the cage'],
      planned: { 'cut-cells': 7, 'hang-cage': 7, 'open-candy': 10 },
      latest: { 'hang-cage': 8 },
      todo: { 'hang-cage': ['keep her dark and warm', 'drop of water'] },
    },
    { on: 'day 7, 9:00', due: ['Cut the cells', 'Hang the cage'] },
    { on: 'day 7, 11:00', due: ['Hang the cage'] },
  ],
};
