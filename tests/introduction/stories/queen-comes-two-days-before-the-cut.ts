import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen comes two days before the cut: she hangs that day, closed, and the cut keeps its day',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 5, 12:00', wrote.arrived()],
  ],
  expect: [
    {
      on: 'day 5, 13:00',
      may: { 'hang the cage': 'go', 'cut the cells': 'wait' },
      notSays: 'in the visit of the cut',
      due: ['Hang the cage'],
      planned: { 'cut-cells': 7, 'open-candy': 10 },
      todo: { 'hang-cage': ['Tape over the candy end', 'attendants in', 'She is at hand'] },
    },
  ],
};
