import { usualCourse, wrote, type Story } from '../support/story.ts';

// A young queen that was just let out may lay several eggs in a cell, on its bottom: common practice.
export const story: Story = {
  name: 'several eggs on the bottom a week after the opening: hers most likely, looked at again in 3-4 days',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ queenSeen: false, severalEggsACell: true, eggsStand: 'bottom' })],
    ['day 21, 10:00', wrote.looked({ eggsStand: 'bottom' })],
  ],
  expect: [
    {
      on: 'day 17, 12:00',
      finding: 'not-yet',
      findingSays: 'Look again in 3 to 4 days',
      stands: 'Worker cappings decide',
      planned: { 'look-again': 21 },
      without: ['unite'],
      todo: { 'look-again': ['on its bottom'] },
    },
    { on: 'day 21, 12:00', stage: 'accepted', finding: 'not-yet', findingSays: 'Her eggs were seen' },
  ],
};
