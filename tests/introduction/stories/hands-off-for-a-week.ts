import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'let out on day 10: not looked for on day 12, nor on day 14, as the candy takes up to three days, looked for on day 17',
  diary: [...usualCourse, ['day 10, 10:30', wrote.opened()]],
  expect: [
    { on: 'day 12, 12:00', may: { 'look for her': 'stop', 'cut the cells': 'wait' } },
    {
      on: 'day 14, 12:00',
      may: { 'look for her': 'stop' },
      until: { 'look for her': 16 },
      notDue: ['Look for the queen'],
    },
    { on: 'day 17, 9:00', may: { 'look for her': 'go' }, due: ['Look for the queen'] },
  ],
};
