import { usualCourse, wrote, type Story } from '../support/story.ts';

const workersLay = wrote.inspection({
  youngestBrood: 'eggs',
  severalEggsACell: true,
  eggsStand: 'walls',
});

export const story: Story = {
  name: 'workers lay beside a caged queen: the bees are united, and no look for her is planned',
  diary: [
    ...usualCourse.filter(([, { kind }]) => kind !== 'cage-hung'),
    ['day 22, 10:00', wrote.arrived()],
    ['day 22, 11:00', wrote.hung()],
    ['day 24, 10:00', workersLay],
  ],
  expect: [
    { on: 'day 23, 12:00', planned: { 'look-for-queen': 31, 'check-sealed-brood': 41 } },
    {
      on: 'day 24, 12:00',
      due: ['Unite it, or shake it out'],
      blocked: ['Open the candy end'],
      without: ['look-for-queen', 'check-sealed-brood'],
    },
  ],
};
