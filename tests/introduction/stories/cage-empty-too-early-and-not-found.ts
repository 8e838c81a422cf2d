import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'looked for two days after the candy was opened and not found: once she is looked for again the nuc says why',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 12, 10:00', wrote.looked({ queenSeen: false, eggsSeen: false })],
  ],
  expect: [
    { on: 'day 12, 12:00', stands: 'The nuc stays shut: a look now can get the queen killed.' },
    {
      on: 'day 16, 12:00',
      may: { 'look for her': 'go' },
      due: ['Look again for the queen'],
      stands: 'She was not found, which does not mean that she is gone.',
    },
  ],
};
