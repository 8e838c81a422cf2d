import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'hostile bees at the second look: watched at the cage first',
  diary: [
    ...usualCourse.slice(0, 3),
    ['day 10, 10:00', wrote.cut({}, { temperament: 'hostile' })],
    ['day 12, 10:00', wrote.atCage()],
  ],
  expect: [
    { on: 'day 10, 12:00', may: { 'let her out': 'stop' }, says: 'hostile', notDue: ['Open the candy end'] },
    { on: 'day 11, 12:00', due: ['Watch the bees at the cage'], notDue: ['Open the candy end'] },
    { on: 'day 12, 12:00', may: { 'let her out': 'go' } },
  ],
};
