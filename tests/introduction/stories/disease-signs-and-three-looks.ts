import { usualCourse, wrote, type Story } from '../support/story.ts';

const notFound = wrote.looked({ queenSeen: false, eggsSeen: false });

export const story: Story = {
  name: 'not found at three looks: uniting is offered, but not with signs of brood disease',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', notFound],
    ['day 22, 10:00', notFound],
    ['day 23, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 25, 10:00', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 27, 10:00', notFound],
    ['day 28, 10:00', { kind: 'brood-disease', found: 'signs' }],
  ],
  expect: [
    { on: 'day 28, 9:00', offered: ['Unite it, or shake it out'] },
    {
      on: 'day 28, 11:00',
      blocked: ['Unite it, or shake it out'],
      due: ['Call the bee inspector'],
    },
  ],
};
