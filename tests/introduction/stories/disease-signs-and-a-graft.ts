import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'her brood is proved, and signs of brood disease are seen in it: no larvae are grafted from it',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', wrote.opened()],
    ['day 18, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
    ['day 28, 10:00', { kind: 'brood-disease', found: 'signs' }],
  ],
  expect: [
    { on: 'day 28, 9:00', offered: ['Graft from her'] },
    { on: 'day 28, 11:00', blocked: ['Graft from her'], due: ['Call the bee inspector'] },
  ],
};
