import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'swarm cells were taken out at the split: that look misses cells too',
  diary: [
    ['day 0, 10:00', wrote.split({ cellsAlreadyThere: 'present-and-removed' })],
    ...usualCourse.slice(1),
  ],
  expect: [
    {
      on: 'day 10, 12:00',
      may: { 'let her out': 'wait' },
      says: 'Swarm cells stood at the split',
      notDue: ['Open the candy end'],
    },
    { on: 'day 11, 9:00', due: ['Put a test frame in'], notDue: ['One more look for cells'] },
  ],
};
