import { usualCourse, wrote, type Story } from '../support/story.ts';

const workers = wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true });

// Bees that raise queen cells on a frame have no workers left that rule them: common practice.
export const story: Story = {
  name: 'laying workers, and a test frame was given in the same visit: it comes out, and its cells tell',
  diary: [
    ...usualCourse,
    ['day 23, 10:00', workers],
    ['day 24, 10:00', workers],
    ['day 24, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 26, 10:30', wrote.broodTaken({ cellsOnIt: 4 })],
  ],
  expect: [
    {
      on: 'day 26, 9:00',
      may: { 'let her out': 'stop' },
      due: ['Take the test frame out', 'Unite it, or shake it out'],
      notDue: ['Put a test frame in'],
    },
    { on: 'day 26, 12:00', notDue: ['Unite it, or shake it out'] },
  ],
};
