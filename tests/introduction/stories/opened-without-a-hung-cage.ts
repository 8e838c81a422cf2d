import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the opening is logged and the hanging was forgotten: no cage is asked for any more',
  diary: [
    ...usualCourse.filter(([, { kind }]) => kind !== 'cage-hung'),
    ['day 10, 10:30', wrote.arrived()],
    ['day 11, 10:00', wrote.opened()],
  ],
  expect: [{ on: 'day 11, 12:00', without: ['hang-cage'] }],
};
