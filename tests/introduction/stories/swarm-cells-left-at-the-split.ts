import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'swarm cells were seen and left at the split',
  diary: [['day 0, 10:00', wrote.split({ cellsAlreadyThere: 'present-and-left' })], ...usualCourse.slice(1)],
  expect: [{ on: 'day 10, 12:00', notDue: ['Open the candy end'] }],
};
