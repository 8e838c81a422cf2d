import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen comes the day before the cut: she waits in her mailing cage and hangs in that visit',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 6, 12:00', wrote.arrived()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
  ],
  expect: [
    {
      on: 'day 6, 13:00',
      may: { 'hang the cage': 'go' },
      says: 'She may hang today, or in the visit of the cut',
      notDue: ['Hang the cage'],
      planned: { 'cut-cells': 7, 'hang-cage': 7, 'open-candy': 10 },
      latest: { 'hang-cage': 8 },
      todo: { 'hang-cage': ['warm, dark and quiet', 'drop of water'] },
    },
    { on: 'day 7, 9:00', due: ['Cut the cells', 'Hang the cage'] },
    { on: 'day 7, 11:00', due: ['Hang the cage'] },
  ],
};
