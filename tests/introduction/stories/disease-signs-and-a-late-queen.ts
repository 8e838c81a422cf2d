import { wrote, type Story } from '../support/story.ts';
import { at } from '../support/field-log.ts';

export const story: Story = {
  name: 'she comes late, and signs of brood disease: no frame of open brood is offered',
  setup: { expectedQueenMs: at(30, 12) },
  diary: [
    ['day 0, 10:00', wrote.split()],
    ['day 7, 10:00', wrote.cut({ sealed: 8 })],
    ['day 10, 10:00', wrote.cut()],
    ['day 17, 10:00', { kind: 'brood-disease', found: 'signs' }],
  ],
  expect: [
    { on: 'day 17, 9:00', offered: ['Give a frame of open brood'] },
    { on: 'day 17, 11:00', blocked: ['Give a frame of open brood'], due: ['Call the bee inspector'] },
  ],
};
