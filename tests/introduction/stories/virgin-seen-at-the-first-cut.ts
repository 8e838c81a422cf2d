import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a virgin is seen at the first cut: the nuc says so until she is taken away, and beside a caged queen too',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 6, 10:00', wrote.hung()],
    ['day 9, 10:00', wrote.cut({ sealed: 8, emerged: 1 }, { virginSeen: true })],
    ['day 9, 15:00', { kind: 'queen-removed', which: 'virgin' }],
  ],
  expect: [
    {
      on: 'day 9, 12:00',
      stage: 'second-look-due',
      stands: 'A virgin was seen, and is not logged as taken away.',
      due: ['Find the loose queen and take her away'],
    },
    { on: 'day 9, 16:00', stands: 'waiting for the second look' },
  ],
};
