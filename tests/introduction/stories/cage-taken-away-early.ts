import { usualCourse, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'on day 8 the cage was taken away and she was left in the nuc: there is no candy end to tape, hands off',
  diary: [...usualCourse.slice(0, -1), ['day 8, 10:00', { kind: 'cage-taken-out', queen: 'left-in-nuc' }]],
  expect: [
    { on: 'day 8, 12:00', stage: 'hands-off', without: ['close-candy'], may: { 'hang the cage': 'stop' } },
  ],
};
