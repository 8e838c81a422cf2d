import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a sealed cell at the check: cut it, and look again some days later',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked({ cells: { open: 0, sealed: 1, emerged: 0, tornDown: 0 } })],
    ['day 18, 10:00', wrote.cut({ sealed: 1 })],
    ['day 22, 10:00', wrote.looked()],
  ],
  expect: [
    {
      on: 'day 17, 12:00',
      stage: 'check-due',
      stands: 'a cell stands',
      may: { 'cut the cells': 'go' },
      due: ['Cut the cell that was seen'],
    },
    { on: 'day 18, 12:00', planned: { 'look-again': 22 }, without: ['cut-after-release'] },
    { on: 'day 22, 12:00', stage: 'accepted', without: ['look-again', 'cut-after-release'] },
  ],
};
