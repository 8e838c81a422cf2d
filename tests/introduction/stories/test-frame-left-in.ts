import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the test frame is still in on day 14: it is taken out before she is let out',
  diary: [...usualCourse, ['day 10, 10:30', wrote.broodAdded({ asTestFrame: true })]],
  expect: [
    {
      on: 'day 14, 9:00',
      may: { 'let her out': 'wait' },
      due: ['Take the test frame out'],
      notDue: ['Open the candy end'],
    },
  ],
};
