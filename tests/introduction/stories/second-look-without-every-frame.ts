import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two frames were left out of the second look',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { everyFrameChecked: false })],
    ['day 10, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 10, 12:00', may: { 'let her out': 'wait' }, notDue: ['Open the candy end'] },
    { on: 'day 11, 9:00', due: ['Second look for cells'], notDue: ['Open the candy end'] },
  ],
};
