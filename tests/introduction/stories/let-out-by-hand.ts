import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'on day 10 she is let onto the comb and her cage taken away, the candy never opened: no word of candy or an empty cage',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', { kind: 'cage-taken-out', queen: 'left-in-nuc' }],
    ['day 18, 10:00', wrote.looked()],
  ],
  expect: [
    {
      on: 'day 11, 12:00',
      stage: 'hands-off',
      may: { 'let her out': 'stop', 'look for her': 'stop' },
      says: 'since she was let out',
      notSays: 'candy',
    },
    {
      on: 'day 17, 12:00',
      due: ['Look for the queen'],
      stands: 'Look for the queen and her eggs.',
      may: { 'look for her': 'go' },
      says: 'A week has passed since she was let out',
      todo: { 'look-for-queen': ['Does the queen walk calmly', 'three full days; a week is better'] },
    },
    { on: 'day 18, 12:00', stage: 'accepted' },
  ],
};
