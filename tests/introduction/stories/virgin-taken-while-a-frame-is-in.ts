import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a virgin is taken away while a test frame is in: the frame stays two days more, and no cell on it then means another queen',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 10, 10:00', wrote.cut({ emerged: 1 })],
    ['day 10, 10:20', wrote.broodAdded({ asTestFrame: true })],
    ['day 11, 10:00', { kind: 'queen-removed', which: 'virgin' }],
    ['day 13, 10:00', wrote.broodTaken({ asTestFrame: true, cellsOnIt: 0 })],
  ],
  expect: [
    { on: 'day 11, 12:00', notDue: ['Take the test frame out'], planned: { 'test-frame-out': 13 } },
    { on: 'day 13, 9:00', due: ['Take the test frame out'] },
    {
      on: 'day 13, 12:00',
      may: { 'let her out': 'stop' },
      says: 'A queen may be loose',
      due: ['Find the loose queen and take her away'],
    },
  ],
};
