import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'out by accident on day 7 and looked for on day 11: every other frame is shaken off in the same visit, once',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 7, 10:40', { kind: 'queen-escaped', to: 'into-the-nuc' }],
    ['day 11, 12:00', wrote.looked()],
    ['day 11, 12:20', wrote.cut()],
  ],
  expect: [
    { on: 'day 11, 11:50', notDue: ['Look for cells beside her'] },
    {
      on: 'day 11, 12:10',
      may: { 'cut the cells': 'go' },
      due: ['Look for cells beside her'],
      todo: { 'cut-after-release': ['set her frame aside'] },
    },
    { on: 'day 11, 13:00', without: ['cut-after-release'] },
  ],
};
