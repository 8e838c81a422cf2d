import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'several eggs in a cell and on the walls in one look: workers lay',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'eggs', eggsStand: 'walls', severalEggsACell: true })],
  ],
  expect: [{ on: 'day 10, 12:00', may: { 'let her out': 'stop' }, due: ['Unite it, or shake it out'] }],
};
