import { usualCourse, wrote, type Story } from '../support/story.ts';

// Local law decides; inspection, a new cage and the old one handed in: COLOSS BEEBOOK II, small hive beetle, 2.3.1.
export const story: Story = {
  name: 'a queen from abroad: the inspector comes before the hanging',
  diary: [...usualCourse.slice(0, 2), ['day 7, 10:10', wrote.arrived({ origin: 'abroad' })]],
  expect: [{ on: 'day 7, 12:00', may: { 'hang the cage': 'go' }, says: 'Ask the inspector first' }],
};
