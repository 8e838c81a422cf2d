import { usualCourse, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'she was taken out after she was balled, and later given to another nuc: she is not at hand any more',
  diary: [
    ...usualCourse,
    ['day 11, 10:00', { kind: 'balled', rescued: true }],
    ['day 12, 10:00', { kind: 'cage-taken-out', forAnotherNuc: true }],
  ],
  expect: [
    { on: 'day 11, 12:00', stands: 'queen at hand' },
    { on: 'day 12, 12:00', stands: 'ready, no queen yet' },
  ],
};
