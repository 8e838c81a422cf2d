import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'the usual course: cut on day 7, looked again on day 10, candy opened, shut for a week, eggs, sealed brood',
  diary: [
    ...usualCourse,
    ['day 10, 10:20', wrote.atCage()],
    ['day 10, 10:30', wrote.opened()],
    ['day 17, 10:00', wrote.looked()],
    ['day 27, 10:00', wrote.looked({ sealedWorkerBroodSeen: true })],
  ],
  expect: [
    {
      on: 'day 2, 12:00',
      may: { 'cut the cells': 'wait', 'let her out': 'wait' },
      notDue: ['Cut the cells'],
    },
    { on: 'day 7, 9:00', may: { 'cut the cells': 'go' }, due: ['Cut the cells'] },
    {
      on: 'day 8, 12:00',
      may: { 'let her out': 'wait' },
      notDue: ['Open the candy end', 'Second look for cells'],
    },
    { on: 'day 10, 9:00', due: ['Second look for cells'], notDue: ['Open the candy end'] },
    { on: 'day 10, 10:25', may: { 'let her out': 'go' }, due: ['Open the candy end'] },
    { on: 'day 12, 12:00', may: { 'look for her': 'stop' }, notDue: ['Look for the queen'] },
    { on: 'day 17, 9:00', may: { 'look for her': 'go' }, due: ['Look for the queen'] },
    { on: 'day 17, 12:00', stage: 'accepted' },
    { on: 'day 27, 12:00', stage: 'accepted', offered: ['Graft from her'] },
  ],
};
