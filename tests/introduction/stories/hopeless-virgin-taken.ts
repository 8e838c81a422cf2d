import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hopelessly queenless, a virgin found and taken: the test frame goes in that day, whether or not she hangs',
  setup: { startingPoint: 'hopelessly-queenless' },
  diary: [
    ['day 0, 10:00', wrote.inspection({ youngestBrood: 'sealed-only', virginSeen: true })],
    ['day 0, 10:10', { kind: 'queen-removed', which: 'virgin' }],
    ['day 0, 10:20', wrote.arrived()],
    ['day 0, 11:00', wrote.hung()],
  ],
  expect: [
    {
      on: 'day 0, 10:30',
      may: { 'hang the cage': 'go' },
      due: ['Hang the cage', 'Put a test frame in'],
      contradictions: 0,
    },
    { on: 'day 0, 12:00', due: ['Put a test frame in'], planned: { 'open-candy': 2 } },
  ],
};
