import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'eggs on the walls in a hopeless colony: uniting is due, and nothing beside it',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'none', severalEggsACell: true, eggsStand: 'walls' })],
    ['day 0, 11:00', wrote.arrived()],
  ],
  expect: [
    {
      on: 'day 0, 12:00',
      may: { 'hang the cage': 'stop' },
      due: ['Unite it, or shake it out'],
      notDue: ['Look through every frame', 'Put a test frame in'],
    },
  ],
};
