import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'opened on day 6 against the answer, with a reason: to shut her in again is offered, and due once the bees bite',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 5, 10:00', wrote.hung()],
    [
      'day 6, 10:00',
      { kind: 'gate-overridden', gate: 'open-candy', reason: 'nobody can come for three weeks' },
    ],
    ['day 6, 10:10', wrote.opened()],
    ['day 6, 13:00', wrote.atCage({ behaviour: 'biting' })],
  ],
  expect: [
    {
      on: 'day 6, 12:00',
      offered: ['Tape the candy end again'],
      notDue: ['Tape the candy end again'],
      todo: { 'close-candy': ['No cut of day 7 or later was made'] },
    },
    { on: 'day 6, 13:30', due: ['Tape the candy end again'] },
  ],
};
