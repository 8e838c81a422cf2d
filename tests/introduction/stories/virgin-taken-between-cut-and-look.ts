import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a virgin is found and taken away on day 9, two days after the cut, and the look of day 10 finds nothing: her cell had been missed',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 9, 10:00', { kind: 'queen-removed', which: 'virgin' }],
    ['day 10, 10:00', wrote.cut()],
    ['day 10, 10:20', wrote.atCage()],
    ['day 11, 10:00', wrote.cut()],
  ],
  expect: [
    {
      on: 'day 10, 11:00',
      may: { 'let her out': 'wait' },
      says: 'One more look',
      notDue: ['Open the candy end'],
    },
    { on: 'day 11, 11:00', may: { 'let her out': 'go' } },
  ],
};
