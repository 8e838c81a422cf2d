import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'no cell on the test frame; then the virgin is found and taken away',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({ emerged: 1 })],
    ['day 10, 10:30', wrote.broodAdded({ asTestFrame: true })],
    ['day 12, 10:30', wrote.broodTaken({ cellsOnIt: 0 })],
    ['day 13, 10:00', wrote.cut({}, { virginSeen: true })],
    ['day 13, 10:10', { kind: 'queen-removed', which: 'virgin' }],
    ['day 14, 10:00', wrote.cut()],
    ['day 14, 10:10', wrote.atCage()],
  ],
  expect: [
    { on: 'day 12, 12:00', may: { 'let her out': 'stop' }, says: 'a queen of some kind may be in the box' },
    { on: 'day 14, 12:00', may: { 'let her out': 'go' } },
  ],
};
