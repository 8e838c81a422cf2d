import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the queen is at hand, and the split has neither been made nor planned: it is due today',
  diary: [['day 0, 9:00', wrote.arrived()]],
  expect: [
    { on: 'day 0, 12:00', may: { 'hang the cage': 'wait' }, due: ['Make the split'] },
    { on: 'day 3, 12:00', due: ['Make the split'], planned: { 'cut-cells': 10 } },
  ],
};
