import { usualCourse, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'after the cut of day 7 the next look has its own day, not tomorrow',
  diary: usualCourse.slice(0, 3),
  expect: [
    {
      on: 'day 7, 12:00',
      may: { 'cut the cells': 'wait' },
      until: { 'cut the cells': 9 },
      latest: { 'second-look': 11 },
    },
    { on: 'day 10, 9:00', may: { 'cut the cells': 'go' }, due: ['Second look for cells'] },
  ],
};
