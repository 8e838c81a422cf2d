import { usualCourse, wrote, type Story } from '../support/story.ts';

/** Common practice: a queen that flies off often finds back; it is looked for her before the next one is given. */
export const story: Story = {
  name: 'she flew off as she was to be hung: some days later it is looked whether she came back, once',
  diary: [
    ...usualCourse.slice(0, 2),
    ['day 7, 10:20', wrote.arrived()],
    ['day 7, 10:40', { kind: 'queen-escaped', to: 'outside' }],
    ['day 12, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
  ],
  expect: [
    {
      on: 'day 8, 12:00',
      may: { 'look for her': 'wait' },
      until: { 'look for her': 11 },
      says: 'often comes back',
      notSays: 'candy',
      planned: { 'look-again': 11 },
      offered: ['The next queen arrives'],
      without: ['unite'],
    },
    {
      on: 'day 12, 9:00',
      may: { 'look for her': 'go' },
      due: ['Look for the queen'],
      todo: { 'look-again': ['the next queen can be given'] },
    },
    { on: 'day 12, 12:00', without: ['look-again'], offered: ['The next queen arrives', 'Log how it ended'] },
  ],
};
