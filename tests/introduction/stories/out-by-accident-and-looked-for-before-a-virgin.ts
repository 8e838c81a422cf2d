import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she got out after one cut: on the day on which she is looked for the nuc says why it does not wait for the week',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 6 })],
    ['day 7, 10:30', wrote.hung()],
    ['day 9, 10:00', { kind: 'queen-escaped', to: 'into-the-nuc' }],
  ],
  expect: [
    { on: 'day 11, 12:00', stands: 'She got out by accident: the nuc stays shut' },
    {
      on: 'day 12, 12:00',
      may: { 'look for her': 'go' },
      due: ['Look for the queen'],
      todo: { 'look-for-queen': ['Cells may be left'] },
      stands: 'a week is better, but cells may be left: look for them and for her.',
    },
  ],
};
