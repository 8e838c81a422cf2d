import { at } from '../support/field-log.ts';
import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the introduction before ended with signs of brood disease: no frames are brought in for a new split',
  before: {
    diary: [
      ['day 0, 10:00', wrote.split()],
      ['day 12, 10:00', { kind: 'brood-disease', found: 'signs' }],
      ['day 12, 11:00', { kind: 'outcome', outcome: 'given-up' }],
    ],
  },
  setup: { plannedSplitMs: at(14, 10) },
  diary: [['day 15, 10:00', { kind: 'brood-disease', found: 'ruled-out' }]],
  expect: [
    { on: 'day 14, 9:00', blocked: ['Make the split'], due: ['Call the bee inspector'] },
    { on: 'day 15, 11:00', without: ['call-inspector'] },
  ],
};
