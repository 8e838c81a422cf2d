import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'laying workers are seen while she hangs in her cage: the nuc says so, not only that she is caged',
  diary: [...usualCourse, ['day 24, 10:00', wrote.inspection({ droneBroodInWorkerCells: true })]],
  expect: [{ on: 'day 24, 12:00', stage: 'caged', stands: 'Workers lay in it, and they kill a queen.' }],
};
