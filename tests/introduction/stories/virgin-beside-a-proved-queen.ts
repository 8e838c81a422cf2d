import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a virgin beside a queen whose brood was proved: nobody grafts before one of the two is gone',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
    ['day 30, 10:00', wrote.inspection({ youngestBrood: 'eggs', virginSeen: true, layingQueenSeen: true })],
    ['day 31, 10:00', { kind: 'queen-removed', which: 'virgin' }],
    [
      'day 40, 10:00',
      wrote.inspection({ youngestBrood: 'eggs', layingQueenSeen: true, cells: { sealed: 1 } }),
    ],
  ],
  expect: [
    { on: 'day 27, 12:00', offered: ['Graft from her'] },
    { on: 'day 30, 12:00', due: ['Find the loose queen and take her away'], without: ['graft'] },
    { on: 'day 31, 12:00', offered: ['Graft from her'], without: ['take-queen-out'] },
    { on: 'day 40, 12:00', due: ['Cut the cell that was seen'], offered: ['Graft from her'] },
    { on: 'day 50, 12:00', due: ['Find the loose queen and take her away'], without: ['graft'] },
  ],
};
