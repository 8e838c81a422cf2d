import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'her arrival is written down in the evening, after she was hung: she hangs, and is not hung again',
  diary: [...usualCourse, ['day 7, 20:00', wrote.arrived()]],
  expect: [
    { on: 'day 8, 9:00', may: { 'hang the cage': 'stop' }, notDue: ['Hang the cage'] },
    { on: 'day 10, 11:00', stage: 'caged', may: { 'let her out': 'go' } },
  ],
};
