import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'a virgin runs over the comb on day 10',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({ emerged: 1 }, { virginSeen: true })],
    ['day 12, 10:00', { kind: 'queen-removed', which: 'virgin' }],
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'let her out': 'stop' },
      says: 'A virgin was seen',
      notDue: ['Open the candy end'],
    },
    { on: 'day 11, 9:00', due: ['Find the loose queen and take her away'], notDue: ['Open the candy end'] },
    { on: 'day 12, 12:00', notDue: ['Find the loose queen and take her away'] },
  ],
};
