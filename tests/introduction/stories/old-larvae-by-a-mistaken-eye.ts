import { usualCourse, wrote, type Story } from '../support/story.ts';

// Larvae near sealing are too old for a queen, and whoever lays has eggs beside them: common practice.
export const story: Story = {
  name: 'larvae near sealing on day 12 as the youngest brood: late or mistaken, and the cuts stand',
  diary: [
    ...usualCourse,
    ['day 12, 10:00', wrote.inspection({ youngestBrood: 'old-larvae' })],
    ['day 12, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 12, 12:00', may: { 'let her out': 'go' }, contradictions: 0, without: ['test-frame-in'] },
  ],
};
