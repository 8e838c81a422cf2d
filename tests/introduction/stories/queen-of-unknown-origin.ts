import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'nobody said where the queen comes from: it is asked',
  diary: [...usualCourse.slice(0, 2), ['day 7, 10:10', wrote.arrived()]],
  expect: [{ on: 'day 7, 12:00', says: 'Does she come from abroad?', may: { 'hang the cage': 'go' } }],
};
