import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a virgin runs beside the queen that was let out; a search on every frame does not find her: she is not hunted daily',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 17, 10:20', wrote.cut({}, { youngestBrood: 'eggs', virginSeen: true })],
    ['day 17, 11:00', wrote.cut({}, { youngestBrood: 'eggs' })],
  ],
  expect: [
    { on: 'day 17, 10:30', due: ['Find the loose queen and take her away'] },
    { on: 'day 18, 9:00', notDue: ['Find the loose queen and take her away'] },
    { on: 'day 20, 9:00', notDue: ['Find the loose queen and take her away'] },
  ],
};
