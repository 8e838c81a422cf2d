import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she comes three days after the last look: every frame is looked through as she is hung, and not again as she is let out',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ open: 1, sealed: 8 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 12, 9:00', wrote.arrived()],
    ['day 12, 9:30', wrote.cut()],
    ['day 12, 9:50', wrote.hung()],
    ['day 13, 11:00', wrote.atCage()],
  ],
  expect: [
    { on: 'day 11, 12:00', without: ['one-more-look'] },
    {
      on: 'day 12, 9:20',
      due: ['One more look for cells', 'Hang the cage'],
      todo: { 'one-more-look': ['opened to hang her'] },
    },
    {
      on: 'day 13, 11:10',
      may: { 'let her out': 'go' },
      due: ['Open the candy end'],
      without: ['one-more-look'],
    },
  ],
};
