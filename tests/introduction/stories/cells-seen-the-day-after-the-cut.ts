import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'six sealed cells are seen the day after the cut and left: they are cut at once, and the second look keeps its day',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 8, 10:00', wrote.inspection({ youngestBrood: 'sealed-only', cells: { sealed: 6 } })],
    ['day 8, 13:00', wrote.cut({ sealed: 6 })],
  ],
  expect: [
    { on: 'day 8, 12:00', may: { 'cut the cells': 'go' }, due: ['Second look for cells'] },
    { on: 'day 8, 14:00', notDue: ['Second look for cells'], planned: { 'second-look': 10 } },
  ],
};
