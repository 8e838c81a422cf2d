import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a queen at hand, and signs of brood disease: she is not hung before they are ruled out',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 2, 10:00', { kind: 'brood-disease', found: 'signs' }],
    ['day 3, 10:00', wrote.arrived()],
    ['day 5, 10:00', { kind: 'brood-disease', found: 'ruled-out' }],
  ],
  expect: [
    { on: 'day 3, 12:00', blocked: ['Hang the cage'], due: ['Call the bee inspector'] },
    { on: 'day 5, 12:00', due: ['Hang the cage'] },
  ],
};
