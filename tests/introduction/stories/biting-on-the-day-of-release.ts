import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'bees bite at the cage on the day on which she was to be let out, and for a week',
  diary: [...usualCourse, ['day 10, 10:20', wrote.atCage({ behaviour: 'biting' })]],
  expect: [
    {
      on: 'day 10, 11:00',
      may: { 'let her out': 'stop' },
      notDue: ['Open the candy end'],
      blocked: ['Open the candy end'],
    },
    { on: 'day 18, 9:00', notDue: ['Open the candy end'], blocked: ['Open the candy end'] },
  ],
};
