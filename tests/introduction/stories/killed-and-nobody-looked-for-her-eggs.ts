import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'killed a week after she was let out, and nobody looked for her eggs: the next queen is not let out among her larvae',
  diary: [
    ...usualCourse,
    ['day 10, 11:00', wrote.opened()],
    ['day 17, 10:00', { kind: 'queen-dead' }],
    ['day 18, 9:00', wrote.arrived({ queenId: 'queen-two' })],
    ['day 18, 10:30', wrote.hung({ queenId: 'queen-two' })],
    ['day 20, 10:00', wrote.inspection({ youngestBrood: 'none' })],
    ['day 20, 10:15', wrote.atCage()],
  ],
  expect: [
    { on: 'day 18, 10:00', due: ['Hang the cage', 'Look through every frame'] },
    {
      on: 'day 19, 12:00',
      may: { 'let her out': 'wait' },
      says: 'may have laid until then',
      due: ['Look through every frame'],
      planned: { 'cut-cells': 24, 'second-look': 27 },
      todo: { 'look-through': ['A queen was out for days'] },
    },
    { on: 'day 20, 11:00', may: { 'let her out': 'go' }, without: ['look-through'] },
  ],
};
