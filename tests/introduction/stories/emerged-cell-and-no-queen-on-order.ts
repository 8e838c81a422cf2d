import { wrote, type Story } from '../support/story.ts';

/** Common practice: a test frame tells whether a virgin is out. No queen is hung whom nobody ordered. */
export const story: Story = {
  name: 'an emerged cell at a late cut, and no queen on order: a test frame is due, and nobody is sent to hang a queen',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 12, 10:00', wrote.cut({ sealed: 5, emerged: 1 })],
  ],
  expect: [
    {
      on: 'day 14, 12:00',
      due: ['Put a test frame in'],
      notDue: ['Hang the cage'],
      offered: ['Hang the cage'],
      afterSheComes: { 'hang-cage': 0, 'open-candy': 1, 'look-for-queen': 8, 'check-sealed-brood': 18 },
    },
    { on: 'day 18, 12:00', due: ['Put a test frame in'], notDue: ['Hang the cage'] },
  ],
};
