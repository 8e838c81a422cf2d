import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'her delivery is marked as arrived, she herself is not logged: she is hung in the visit of the cut',
  setup: { expectedQueenMs: Date.UTC(2027, 4, 6, 8), deliveryIsHere: true },
  diary: [['day 0, 10:00', wrote.split()]],
  expect: [
    { on: 'day 7, 12:00', due: ['Cut the cells', 'Hang the cage'], notDue: ['Queen arrives'] },
    { on: 'day 9, 12:00', due: ['Hang the cage'] },
  ],
};
