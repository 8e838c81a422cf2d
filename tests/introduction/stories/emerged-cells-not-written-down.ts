import { wrote, type Story } from '../support/story.ts';

const unsaid = { everyFrameChecked: true, beesShakenOff: true, virginSeen: undefined };

export const story: Story = {
  name: 'twelve cells, and nothing on day 10, but emerged cells were not written down: the answer says so',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({}, { ...unsaid, cells: { open: 0, sealed: 12 } })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({}, { ...unsaid, cells: { open: 0, sealed: 0 } })],
    ['day 10, 10:10', wrote.atCage()],
    ['day 11, 10:00', wrote.cut()],
  ],
  expect: [
    {
      on: 'day 10, 10:30',
      may: { 'let her out': 'wait' },
      says: 'If you looked for emerged cells and a virgin too',
    },
    { on: 'day 11, 10:30', may: { 'let her out': 'go' }, notSays: 'If you looked for emerged cells' },
  ],
};
