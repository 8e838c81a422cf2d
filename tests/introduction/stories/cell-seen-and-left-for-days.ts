import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a cell is seen and left two days after the cut: the last day to cut it does not move on with today',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 9, 8:00', wrote.inspection({ cells: { open: 0, sealed: 1, emerged: 0, tornDown: 0 } })],
  ],
  expect: [
    { on: 'day 9, 12:00', due: ['Second look for cells'], latest: { 'second-look': 10 } },
    { on: 'day 11, 12:00', due: ['Second look for cells'], latest: { 'second-look': 10 } },
    { on: 'day 14, 12:00', planned: { 'second-look': 14 }, latest: { 'second-look': 10 } },
  ],
};
