import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she was met at an inspection and lies dead later: nobody looks for her when the next one comes',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 18, 10:00', wrote.inspection({ youngestBrood: 'eggs', layingQueenSeen: true })],
    ['day 30, 10:00', { kind: 'queen-dead' }],
    ['day 31, 10:00', wrote.arrived({ queenId: 'queen-two' })],
  ],
  expect: [
    { on: 'day 18, 12:00', stage: 'accepted', may: { 'hang the cage': 'stop' } },
    {
      on: 'day 31, 12:00',
      may: { 'hang the cage': 'go' },
      due: ['Hang the cage'],
      without: ['take-queen-out', 'test-frame-in'],
    },
  ],
};
