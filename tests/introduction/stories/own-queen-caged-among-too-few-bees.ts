import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen of one’s own hangs among too few bees: no cell is cut on a day on which she can’t be let out',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
    ['day 1, 10:00', wrote.hung()],
    ['day 1, 11:00', wrote.inspection({ framesOfBees: 1, everyFrameChecked: false })],
  ],
  expect: [
    {
      on: 'day 1, 12:00',
      may: { 'let her out': 'wait' },
      due: ['Add bees, count the frames'],
      notDue: ['Cut the cells', 'Open the candy end'],
    },
  ],
};
