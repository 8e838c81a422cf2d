import { usualCourse, wrote, type Story } from '../support/story.ts';

const notFound = wrote.looked({ queenSeen: false, eggsSeen: false });

export const story: Story = {
  name: 'not found at two looks, and signs of brood disease: no test frame comes in before the inspector has spoken',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', notFound],
    ['day 22, 10:00', notFound],
    ['day 22, 10:10', { kind: 'brood-disease', found: 'signs' }],
    ['day 24, 10:00', { kind: 'brood-disease', found: 'ruled-out' }],
  ],
  expect: [
    { on: 'day 22, 10:05', due: ['Put a test frame in'], without: ['call-inspector'] },
    {
      on: 'day 23, 9:00',
      blocked: ['Put a test frame in'],
      due: ['Call the bee inspector'],
    },
    { on: 'day 24, 11:00', due: ['Put a test frame in'], without: ['call-inspector'] },
  ],
};
