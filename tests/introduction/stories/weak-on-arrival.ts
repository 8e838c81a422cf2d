import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen arrives weak on day 5: the bees warm her, she hangs the same day',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 5, 9:00', wrote.arrived({ condition: 'weak', attendantsAlive: 2 })],
  ],
  expect: [
    {
      on: 'day 5, 9:30',
      may: { 'hang the cage': 'go', 'let her out': 'wait' },
      due: ['Hang the cage'],
      notDue: ['Open the candy end', 'Cut the cells'],
    },
  ],
};
