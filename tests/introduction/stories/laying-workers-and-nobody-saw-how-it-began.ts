import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'nobody saw how it began, and several eggs in a cell: it is united, and not looked through before',
  setup: { startingPoint: 'queenless-with-cells' },
  diary: [
    ['day 3, 10:00', wrote.inspection({ cells: { open: 2, sealed: 1 }, everyFrameChecked: false })],
    ['day 7, 10:00', wrote.cut({ sealed: 9 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut()],
    ['day 20, 10:00', wrote.inspection({ severalEggsACell: true, everyFrameChecked: false })],
  ],
  expect: [
    {
      on: 'day 20, 12:00',
      due: ['Unite it, or shake it out'],
      notDue: ['Look through every frame', 'One more look for cells'],
    },
  ],
};
