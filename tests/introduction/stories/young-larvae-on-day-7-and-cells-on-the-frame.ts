import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'larvae were taken for young on day 7, and the test frame has cells: the cut of day 7 counts, the second look comes with the frame',
  diary: [
    ...usualCourse.slice(0, 1),
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 }, { youngestBrood: 'young-larvae' })],
    ['day 7, 10:30', wrote.hung()],
    ['day 7, 10:40', wrote.broodAdded({ asTestFrame: true })],
    ['day 10, 9:30', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 4 })],
  ],
  expect: [
    { on: 'day 7, 12:00', may: { 'let her out': 'stop' }, contradictions: 1 },
    { on: 'day 10, 9:40', contradictions: 0, due: ['Second look for cells'], notDue: ['Cut the cells'] },
  ],
};
