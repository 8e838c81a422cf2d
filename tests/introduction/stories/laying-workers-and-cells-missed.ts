import { wrote, type Story } from '../support/story.ts';

const workers = wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true });

export const story: Story = {
  name: 'laying workers, and looks so late that a cell may stand: no test frame for bees that are united',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 22, 10:00', workers],
    ['day 24, 10:00', workers],
  ],
  expect: [
    {
      on: 'day 24, 12:00',
      due: ['Unite it, or shake it out'],
      notDue: ['Put a test frame in', 'Take the test frame out'],
    },
  ],
};
