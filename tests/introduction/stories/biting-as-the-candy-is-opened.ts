import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the bees bite as the candy end is opened: it is taped again while she can’t be out',
  diary: [...usualCourse, ['day 10, 10:30', wrote.opened({ behaviour: 'biting' })]],
  expect: [
    { on: 'day 10, 11:00', due: ['Tape the candy end again'], todo: { 'close-candy': ['The bees bite'] } },
    { on: 'day 11, 11:00', without: ['close-candy'] },
  ],
};
