import { usualCourse, wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'signs of disease, and then too few bees, kept her out for days: on the day on which she may hang she is due and not overdue',
  diary: [
    ...usualCourse.slice(0, 1),
    ['day 1, 9:00', wrote.arrived()],
    ['day 1, 10:00', { kind: 'brood-disease', found: 'signs' }],
    ['day 4, 10:00', { kind: 'brood-disease', found: 'ruled-out' }],
    ['day 4, 11:00', wrote.inspection({ framesOfBees: 1, everyFrameChecked: false })],
    ['day 6, 10:00', wrote.inspection({ framesOfBees: 3, everyFrameChecked: false })],
  ],
  expect: [
    { on: 'day 3, 12:00', blocked: ['Hang the cage'] },
    { on: 'day 4, 10:30', due: ['Hang the cage'], latest: { 'hang-cage': 5 } },
    { on: 'day 5, 12:00', blocked: ['Hang the cage'] },
    { on: 'day 6, 12:00', due: ['Hang the cage'], latest: { 'hang-cage': 7 } },
  ],
};
