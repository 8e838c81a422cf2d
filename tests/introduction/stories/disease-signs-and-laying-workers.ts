import { wrote, type Story } from '../support/story.ts';

export const story: Story = {
  name: 'laying workers and signs of brood disease: nothing is united before the inspector has spoken',
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 24, 9:00', wrote.arrived()],
    ['day 24, 10:00', wrote.inspection({ youngestBrood: 'eggs', severalEggsACell: true })],
    ['day 24, 10:10', { kind: 'brood-disease', found: 'signs' }],
    ['day 27, 10:00', { kind: 'brood-disease', found: 'ruled-out' }],
  ],
  expect: [
    { on: 'day 24, 10:05', due: ['Unite it, or shake it out'] },
    {
      on: 'day 24, 11:00',
      blocked: ['Hang the cage', 'Unite it, or shake it out'],
      due: ['Call the bee inspector'],
    },
    { on: 'day 27, 11:00', due: ['Unite it, or shake it out'], without: ['call-inspector'] },
  ],
};
