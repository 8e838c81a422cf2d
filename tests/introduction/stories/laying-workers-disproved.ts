import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'several eggs a cell were seen once; two later looks on every frame find no sign',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { youngestBrood: 'eggs', severalEggsACell: true })],
    ['day 12, 10:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 16, 11:00', wrote.cut({}, { youngestBrood: 'sealed-only' })],
    ['day 16, 11:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 10, 12:00', may: { 'let her out': 'stop' }, says: 'Workers are laying' },
    { on: 'day 12, 12:00', may: { 'let her out': 'stop' }, says: 'Workers are laying' },
    { on: 'day 16, 12:00', may: { 'let her out': 'go' } },
  ],
};
