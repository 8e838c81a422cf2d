import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she flew off as she was to be hung; another comes',
  diary: [
    ...usualCourse.slice(0, 2),
    ['day 7, 10:20', wrote.arrived()],
    ['day 7, 10:40', { kind: 'queen-escaped', to: 'outside' }],
    ['day 9, 10:00', wrote.arrived({ queenId: 'queen-two' })],
  ],
  expect: [
    { on: 'day 8, 10:00', may: { 'let her out': 'stop', 'hang the cage': 'wait' }, stage: 'failed' },
    { on: 'day 9, 11:00', may: { 'hang the cage': 'go' } },
  ],
};
