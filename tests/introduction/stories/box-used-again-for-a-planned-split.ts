import { at } from '../support/field-log.ts';
import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the nuc was sold with its queen, and a split is planned in the same box: its days count from the split',
  before: {
    diary: [
      ...usualCourse,
      ['day 10, 10:30', wrote.opened()],
      ['day 17, 10:00', wrote.looked()],
      ['day 28, 10:00', { kind: 'outcome', outcome: 'accepted' }],
    ],
  },
  setup: { plannedSplitMs: at(60), expectedQueenMs: at(67), openedAtMs: at(50) },
  diary: [],
  expect: [
    {
      on: 'day 50, 12:00',
      planned: { split: 60, 'cut-cells': 67, 'second-look': 70, 'open-candy': 70 },
      may: { 'cut the cells': 'wait' },
    },
    { on: 'day 60, 9:00', due: ['Make the split'], planned: { 'cut-cells': 67, 'second-look': 70 } },
  ],
};
