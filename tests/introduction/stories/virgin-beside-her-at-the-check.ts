import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a virgin was seen beside the queen at the check: nothing is accepted until she is taken away',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.inspection({ youngestBrood: 'eggs', virginSeen: true })],
    ['day 17, 10:10', wrote.looked()],
    ['day 18, 10:00', { kind: 'queen-removed', which: 'virgin' }],
  ],
  expect: [
    {
      on: 'day 17, 11:00',
      stage: 'check-due',
      stands: 'a virgin is in it',
      due: ['Find the loose queen and take her away'],
    },
    { on: 'day 18, 11:00', stage: 'accepted', without: ['take-queen-out'] },
  ],
};
