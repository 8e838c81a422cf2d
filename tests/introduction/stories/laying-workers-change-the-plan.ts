import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'laying workers: the cage is not hung, and the nuc is united or shaken out',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 26, 10:00', wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
    ['day 26, 12:00', wrote.arrived()],
  ],
  expect: [
    {
      on: 'day 26, 13:00',
      may: { 'hang the cage': 'stop', 'let her out': 'stop' },
      blocked: ['Hang the cage'],
      due: ['Unite it, or shake it out'],
    },
  ],
};
