import { usualCourse, wrote, type Story } from '../support/story.ts';

/** Larvae up to three days old become queens (Fell and Morse 1984): a cut while such are left is never the last one. */
export const story: Story = {
  name: 'she laid and died: cells from her own brood are cut when none of it is young enough, and the days count from her last egg',
  diary: [
    ...usualCourse,
    ['day 12, 10:00', wrote.opened()],
    ['day 19, 10:00', wrote.looked()],
    ['day 22, 10:00', { kind: 'queen-dead' }],
    ['day 24, 10:00', wrote.inspection({ youngestBrood: 'young-larvae', cells: { open: 3 } })],
  ],
  expect: [
    {
      on: 'day 24, 18:00',
      may: { 'cut the cells': 'wait' },
      until: { 'cut the cells': 28 },
      says: 'it can’t be the last cut',
      notSays: 'A living cell was seen after she was let out',
      offered: ['Early cut of cells'],
      planned: { 'cut-cells': 28 },
      todo: {
        'cut-cells': ['From day 7 after the last egg'],
        'early-cut': ['The later cut stays'],
      },
    },
  ],
};
