import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she laid for days and is found dead; the next queen comes two days later, and no worker lays so soon',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 20, 10:00', { kind: 'queen-dead' }],
    ['day 22, 9:00', wrote.arrived({ queenId: 'queen-two' })],
  ],
  expect: [
    {
      on: 'day 22, 10:00',
      may: { 'hang the cage': 'go' },
      notSays: 'workers may lay',
      due: ['Hang the cage'],
      planned: { 'cut-cells': 27 },
    },
  ],
};
