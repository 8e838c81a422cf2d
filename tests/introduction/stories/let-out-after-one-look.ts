import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'let out on the day of the first cut: she may be shut in again until the second look',
  diary: [...usualCourse.slice(0, 3), ['day 7, 11:00', wrote.opened()]],
  expect: [
    { on: 'day 7, 12:00', offered: ['Tape the candy end again'], notDue: ['Tape the candy end again'] },
    { on: 'day 8, 12:00', without: ['close-candy'] },
  ],
};
