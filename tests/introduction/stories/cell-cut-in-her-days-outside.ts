import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'an inspection by mistake finds a cell two days after the release, and it is cut: the look for her looks for cells too',
  diary: [
    ...usualCourse,
    ['day 10, 10:30', wrote.opened()],
    [
      'day 12, 10:00',
      wrote.inspection({
        youngestBrood: 'sealed-only',
        cells: { open: 0, sealed: 1, emerged: 0, tornDown: 0 },
      }),
    ],
    ['day 12, 10:20', wrote.cut({ sealed: 1 })],
  ],
  expect: [
    {
      on: 'day 12, 12:00',
      without: ['look-again'],
      todo: { 'look-for-queen': ['one was seen since she was let out'] },
    },
  ],
};
