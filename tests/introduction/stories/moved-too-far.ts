import { usualCourse, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'moved five kilometres: foragers stay, and nothing waits for them',
  diary: [['day 0, 11:00', { kind: 'moved', metres: 5000 }], ...usualCourse],
  expect: [
    { on: 'day 1, 12:00', stage: 'waiting-to-cut' },
    { on: 'day 7, 9:00', may: { 'cut the cells': 'go' }, says: 'The old bees stay' },
    { on: 'day 10, 12:00', may: { 'let her out': 'go' }, says: 'The old bees stay' },
  ],
};
