import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'two cells were seen on day 8 and left: they are cut before anything else',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 8, 10:00', wrote.inspection({ cells: { open: 0, sealed: 2, emerged: 0, tornDown: 0 } })],
  ],
  expect: [
    {
      on: 'day 8, 12:00',
      may: { 'let her out': 'wait', 'cut the cells': 'go' },
      says: '2 living queen cells',
      stage: 'second-look-due',
    },
    { on: 'day 11, 9:00', due: ['Second look for cells'], notDue: ['Open the candy end'] },
  ],
};
