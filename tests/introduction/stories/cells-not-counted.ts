import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'an entry of day 10 that counts no cells is no look for cells',
  diary: [...usualCourse.slice(0, 3), ['day 10, 10:00', { ...wrote.cut(), cells: {} } as never]],
  expect: [{ on: 'day 10, 12:00', may: { 'let her out': 'wait' }, says: 'second complete look' }],
};
