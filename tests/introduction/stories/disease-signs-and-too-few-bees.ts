import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'too few bees, and signs of brood disease: none are brought from another colony',
  diary: [
    ['day 0, 10:00', wrote.split({ framesOfBees: 1 })],
    ['day 5, 10:00', { kind: 'brood-disease', found: 'signs' }],
    ['day 6, 10:00', wrote.arrived()],
  ],
  expect: [
    {
      on: 'day 6, 12:00',
      blocked: ['Add bees, count the frames'],
      due: ['Call the bee inspector'],
    },
  ],
};
