import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she was hung and let out, and nobody logged it: the answer asks before it takes her away, and wants no test frame',
  diary: [...usualCourse.slice(0, 2), ['day 10, 10:00', wrote.cut()], ['day 17, 10:00', wrote.looked()]],
  expect: [
    {
      on: 'day 17, 12:00',
      may: { 'hang the cage': 'stop' },
      says: 'log when she was hung and let out',
      without: ['test-frame-in'],
    },
  ],
};
