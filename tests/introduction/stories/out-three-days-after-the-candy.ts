import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the candy takes up to three days: three full days of hands off count from then',
  diary: [...usualCourse, ['day 10, 11:00', wrote.opened()]],
  expect: [
    { on: 'day 14, 12:00', may: { 'look for her': 'stop' }, says: 'through the candy' },
    { on: 'day 16, 12:00', may: { 'look for her': 'wait' } },
    { on: 'day 17, 9:00', may: { 'look for her': 'go' }, says: 'since the candy was opened' },
  ],
};
