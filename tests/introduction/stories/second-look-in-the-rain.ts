import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'it rains from day 10 to day 12: the second look is made on day 13, and the chance asks for one more',
  diary: [...usualCourse.slice(0, 3), ['day 13, 10:00', wrote.cut()], ['day 13, 10:10', wrote.atCage()]],
  expect: [
    {
      on: 'day 12, 9:00',
      may: { 'let her out': 'wait', 'cut the cells': 'go' },
      due: ['Second look for cells'],
      notDue: ['Open the candy end'],
    },
    // A cell that was missed on day 7 may have opened by then.
    { on: 'day 13, 12:00', may: { 'let her out': 'wait' }, says: 'Chance that a dangerous cell was missed' },
  ],
};
