import { at } from '../support/field-log.ts';
import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'an introduction that is entered on day 9 with its real beginning: its days count, and nothing was late before it was opened',
  setup: { openedAtMs: at(9, 18) },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 7, 10:30', wrote.hung()],
  ],
  expect: [
    { on: 'day 9, 19:00', may: { 'let her out': 'wait' }, planned: { 'second-look': 10 } },
    { on: 'day 10, 12:00', due: ['Second look for cells'] },
  ],
};
