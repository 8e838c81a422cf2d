import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'too few bees for a queen of one’s own: bees are added, and cells are cut on the day on which she can be let out',
  setup: { startingPoint: 'own-laying-queen' },
  diary: [
    ['day 0, 10:00', wrote.split({ framesOfBees: 1.5 })],
    ['day 1, 9:00', wrote.arrived({ origin: 'own' })],
  ],
  expect: [
    {
      on: 'day 1, 12:00',
      may: { 'hang the cage': 'wait' },
      due: ['Add bees, count the frames'],
      notDue: ['Cut the cells'],
    },
  ],
};
