/** What is written down of the queen: how she came, went in, was let out, and what became of her. */
import type { FactKind } from '../../api/facts.ts';
import type { Form } from './fields.ts';
import { atCage, cellsBefore, queen } from './fields.ts';

export const queens = {
  'queen-arrived': {
    title: 'Queen arrived',
    lookFor: [
      'Queen moving, attendants alive, candy soft.',
      'A drop of water on the mesh; keep her at room warmth, out of the sun.',
    ],
    cautions: ['imports', 'honey'],
    fields: [
      queen,
      {
        key: 'condition',
        type: 'choice',
        label: 'She is',
        options: { alive: 'alive', weak: 'weak', dead: 'dead' },
        needed: 'Say whether she came alive.',
      },
      { key: 'attendantsAlive', type: 'count', most: 40, first: 8, label: 'Attendants alive', more: true },
      {
        key: 'origin',
        type: 'choice',
        label: 'She comes from',
        options: { own: 'my own stock', 'same-country': 'this country', abroad: 'abroad' },
        more: true,
      },
      {
        key: 'daysInPost',
        type: 'count',
        most: 30,
        first: 3,
        label: 'Days in her cage before she came',
        more: true,
      },
    ],
  },
  'cage-hung': {
    title: 'Cage hung',
    lookFor: [
      'Flat between two brood frames, held by a line.',
      'Mesh free, so that the bees can feed her.',
      'Candy end closed, tape on, until the nuc is ready.',
    ],
    cautions: ['stings'],
    fields: [
      queen,
      {
        key: 'candyEnd',
        type: 'choice',
        label: 'Candy end',
        options: { closed: 'closed, tape on', open: 'open' },
        needed: 'Say whether the candy end is closed.',
      },
      {
        key: 'attendants',
        type: 'choice',
        label: 'Her attendants',
        options: { in: 'left in', 'taken-out': 'taken out' },
        more: true,
      },
    ],
  },
  'candy-opened': {
    title: 'Candy end opened',
    lookFor: [
      'No cell, no virgin, no larva young enough.',
      'Calm bees on the cage.',
      'Close up. No look for six days: up to three until she is out, then three full days. Better a week.',
    ],
    cautions: ['stings'],
    fields: [
      {
        key: 'plug',
        type: 'choice',
        label: 'The plug was',
        options: { whole: 'left whole', 'pushed-back': 'pushed back' },
        needed: 'Say whether the plug was left whole.',
      },
      { key: 'behaviour', type: 'choice', label: 'Bees on the cage were', options: atCage },
    ],
  },
  'cage-taken-out': {
    title: 'Cage or mesh taken out',
    lookFor: [
      'Mesh lifted: no cell, no virgin, no larva young enough; calm bees on it.',
      'Does she walk calmly? Close up. No look for three full days after the mesh was lifted, better a week.',
    ],
    cautions: ['stings'],
    fields: [
      {
        key: 'queen',
        type: 'choice',
        label: 'The queen',
        options: { 'left-in-nuc': 'walks on the comb', 'in-the-cage': 'went out with the cage' },
      },
      {
        key: 'forAnotherNuc',
        type: 'seen',
        label: 'She went into another nuc',
        hint: 'log there that she was hung',
        onlyIf: { key: 'queen', is: 'in-the-cage' },
      },
    ],
  },
  'queen-removed': {
    title: 'A queen taken away',
    lookFor: [
      'A queen that walked free: the old one, a virgin, or a young one that lays.',
      'Not the queen that you gave: where she fails and you take her out for good, log “Queen dead”.',
    ],
    cautions: ['stings'],
    fields: [
      {
        key: 'which',
        type: 'choice',
        label: 'It was',
        options: {
          virgin: 'a virgin',
          'old-queen': 'the old queen',
          'young-queen': 'a young queen that lays',
        },
        needed: 'Say which queen it was.',
      },
      ...cellsBefore.map((field) => ({ onlyIf: { key: 'which', is: 'old-queen' }, ...field })),
    ],
  },
  'queen-escaped': {
    title: 'Queen got out by accident',
    lookFor: ['Close the nuc and leave it shut: most queens go back in on their own.'],
    cautions: [],
    fields: [
      {
        key: 'to',
        type: 'choice',
        label: 'Where she went',
        options: { 'into-the-nuc': 'into the nuc', outside: 'she flew off', 'not-known': 'nobody saw' },
        needed: 'Say where she went, or that nobody saw.',
      },
    ],
  },
  balled: {
    title: 'Queen balled',
    lookFor: ['Water on the ball first, never smoke. Look at her legs and wings; cage her again.'],
    cautions: ['stings'],
    fields: [{ key: 'rescued', type: 'yes', label: 'Rescued?', needed: 'Say whether she was rescued.' }],
  },
  'queen-dead': {
    title: 'Queen dead',
    lookFor: ['The queen that you gave: found dead, or taken out for good because she fails or lays drones.'],
    cautions: [],
    fields: [],
  },
} as const satisfies Partial<Record<FactKind, Form>>;
