import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'rain on days 7 and 8: the first cut is on day 9, the next looks are on days 11 and 12',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 9, 10:00', wrote.cut({ sealed: 8 })],
    ['day 9, 10:30', wrote.hung()],
    ['day 11, 10:00', wrote.cut()],
    ['day 12, 10:00', wrote.cut()],
  ],
  expect: [{ on: 'day 12, 11:00', may: { 'let her out': 'go' }, says: 'No virgin need be feared' }],
};
