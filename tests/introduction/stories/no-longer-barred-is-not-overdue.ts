import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'barred for days by an emerged cell: on the day on which the virgin is found, letting her out is due and not overdue',
  diary: [
    ...usualCourse.slice(0, 1),
    ['day 6, 9:00', wrote.arrived()],
    ...usualCourse.slice(1, 3),
    ['day 16, 10:00', wrote.cut({ emerged: 1 })],
    ['day 16, 10:10', wrote.broodAdded({ asTestFrame: true })],
    ['day 18, 10:10', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 19, 10:00', { kind: 'queen-removed', which: 'virgin' }],
  ],
  expect: [{ on: 'day 19, 12:00', due: ['Open the candy end'], latest: { 'open-candy': 19 } }],
};
