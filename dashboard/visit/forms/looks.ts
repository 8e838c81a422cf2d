/** What is written down of a look into the box. */
import type { FactKind } from '../../api/facts.ts';
import type { Form } from './fields.ts';
import {
  atCage,
  cells,
  eggsOutsideMesh,
  moods,
  search,
  seen,
  signs,
  temperament,
  virgin,
  youngest,
} from './fields.ts';

export const looks = {
  'cells-cut': {
    title: 'Cells cut',
    lookFor: [
      'Every frame, both sides, bees shaken off.',
      'Corners, bottom bars and holes in the comb.',
      'A cell opened at its tip: a virgin may be out.',
    ],
    cautions: ['stings', 'fire'],
    fields: [
      ...search,
      ...cells,
      { ...youngest, more: true },
      seen('youngLarvaInOpenCell', 'A young larva in an open cell'),
      virgin,
      ...signs({ key: 'youngestBrood', is: 'eggs' }),
      eggsOutsideMesh,
      temperament,
    ],
  },
  inspection: {
    title: 'Looked in, cut nothing',
    lookFor: ['The youngest brood there is.', 'Cells, by kind; this entry leaves them standing.'],
    cautions: ['stings'],
    fields: [
      { key: 'framesOfBees', type: 'frames', first: 3, label: 'Frames of bees', each: true },
      youngest,
      ...search,
      ...cells,
      virgin,
      seen('layingQueenSeen', 'A queen that lays, walking free'),
      ...signs({ key: 'youngestBrood', is: 'eggs' }),
      eggsOutsideMesh,
      temperament,
    ],
  },
  'looked-for-queen': {
    title: 'Looked for the queen',
    lookFor: [
      'Is the cage empty?',
      'A queen walking calmly; one egg in a cell, upright on its bottom.',
      'Cells, or hostile bees around her.',
    ],
    cautions: ['stings'],
    fields: [
      {
        key: 'cageEmpty',
        type: 'yes',
        label: 'Cage empty?',
        needed: 'Say whether the cage is empty.',
      },
      { key: 'queenSeen', type: 'yes', label: 'Queen seen?', needed: 'Say whether you saw the queen.' },
      { key: 'eggsSeen', type: 'yes', label: 'Eggs seen?', unsent: false },
      {
        key: 'behaviour',
        type: 'choice',
        label: 'The bees are',
        options: moods,
        needed: 'Say how the bees are.',
      },
      seen('sealedWorkerBroodSeen', 'Sealed worker brood of hers'),
      ...cells.map((field) => ({ ...field, more: true as const })),
      seen('cellsTakenDown', 'Every living cell taken down'),
      ...signs({ key: 'eggsSeen', is: true }),
    ],
  },
  'cage-checked': {
    title: 'Looked at the cage',
    lookFor: [
      'Feeding and fanning is good.',
      'Biting, clinging, trying to sting is not: look for a cell, a virgin or a larva.',
    ],
    cautions: ['stings'],
    fields: [
      {
        key: 'behaviour',
        type: 'choice',
        label: 'Bees on the cage are',
        options: atCage,
        needed: 'Say how the bees are on the cage.',
      },
      {
        key: 'queenAlive',
        type: 'yes',
        label: 'Queen alive?',
        needed: 'Say whether the queen is alive.',
      },
    ],
  },
} as const satisfies Partial<Record<FactKind, Form>>;
