import { usualCourse, wrote, type Story } from '../support/story.ts';

const notFound = wrote.looked({ queenSeen: false, eggsSeen: false });

export const story: Story = {
  name: 'signs of brood disease while a test frame is in: it comes out as planned, and goes into no other colony',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', notFound],
    ['day 22, 10:00', notFound],
    ['day 23, 10:00', wrote.broodAdded({ asTestFrame: true })],
    ['day 24, 10:00', { kind: 'brood-disease', found: 'signs' }],
  ],
  expect: [
    {
      on: 'day 25, 9:00',
      due: ['Take the test frame out'],
      todo: { 'test-frame-out': ['It goes into no other colony'] },
    },
  ],
};
