/** What is written down of the colony: the split, its place, food, brood given and taken, how it ended. */
import type { FactKind } from '../../api/facts.ts';
import { outcomeWords } from '../../words/labels.ts';
import type { Form } from './fields.ts';
import { cellsBefore } from './fields.ts';

const frames = (key: string, label: string, first: number) =>
  ({ key, type: 'frames', first, label, needed: `Count the ${label.toLowerCase()}.` }) as const;

export const colony = {
  'split-made': {
    title: 'Split made',
    lookFor: [
      'Find the old queen and leave her behind.',
      'Take frames with nurse bees. Look each over for queen cells.',
    ],
    cautions: ['stings', 'fire', 'lifting', 'disease'],
    fields: [
      {
        key: 'oldQueen',
        type: 'choice',
        label: 'The old queen was',
        options: {
          'seen-in-parent': 'seen in the parent',
          'seen-in-split-and-moved': 'seen in the split, moved back',
          'not-seen': 'not seen',
        },
        needed: 'Say where the old queen was, or that you did not see her.',
      },
      ...cellsBefore,
      frames('framesOfBees', 'Frames of bees', 3),
      frames('framesOfSealedBrood', 'Frames of sealed brood', 1),
      frames('framesOfOpenBrood', 'Frames of open brood', 1),
      frames('framesOfStores', 'Frames of stores', 1),
    ],
  },
  moved: {
    title: 'Nuc moved',
    lookFor: [
      'At least about 10 m from the parent, so that its foragers fly home.',
      'Brought back: log the distance at which it stands now.',
    ],
    cautions: ['lifting', 'electrics'],
    fields: [
      {
        key: 'metres',
        type: 'amount',
        most: 1_000_000,
        first: 10,
        step: 5,
        unit: 'm',
        label: 'How far from the parent',
        needed: 'Say how far from the parent it stands.',
      },
    ],
  },
  fed: {
    title: 'Fed',
    lookFor: ['No spill outside the box: it calls robbers.'],
    cautions: ['stings', 'lifting', 'honey'],
    fields: [
      {
        key: 'feed',
        type: 'choice',
        label: 'With',
        options: {
          syrup: 'syrup',
          fondant: 'fondant',
          'frame-of-stores': 'a frame of stores',
          pollen: 'pollen',
        },
        needed: 'Say what it was fed with.',
      },
      {
        key: 'kilograms',
        type: 'amount',
        most: 20,
        first: 1,
        step: 0.25,
        unit: 'kg',
        label: 'How much',
      },
    ],
  },
  'brood-frame-added': {
    title: 'Brood frame put in',
    lookFor: ['Bees shaken off, no queen on it.', 'Only from a colony without signs of disease.'],
    cautions: ['stings', 'lifting', 'disease'],
    fields: [
      {
        key: 'brood',
        type: 'choice',
        label: 'Youngest brood on it',
        drawing: 'brood',
        options: {
          'eggs-or-young-larvae': 'eggs or young larvae',
          'old-larvae': 'old larvae',
          'sealed-only': 'sealed only',
        },
        needed: 'Say how young the brood on it is.',
      },
      {
        key: 'asTestFrame',
        type: 'seen',
        label: 'As a test frame',
        hint: 'eggs and young larvae, taken out whole after a day or two',
      },
    ],
  },
  'brood-frame-taken': {
    title: 'Brood frame taken out',
    lookFor: ['Shake the bees off; count the cells on it.'],
    cautions: ['stings', 'lifting'],
    fields: [
      { key: 'asTestFrame', type: 'seen', label: 'It was the test frame' },
      { key: 'cellsOnIt', type: 'count', most: 200, label: 'Cells on it', each: true, drawing: 'cells' },
    ],
  },
  'brood-disease': {
    title: 'Signs of brood disease',
    lookFor: [
      'Cappings sunken, dark or pierced; brood in patches.',
      'Larvae yellow, brown or twisted; a bad smell; a match draws a brown thread.',
    ],
    cautions: [],
    first: 'signs',
    fields: [
      {
        key: 'found',
        type: 'choice',
        label: 'What is logged',
        options: { signs: 'signs seen', 'ruled-out': 'ruled out by inspector or laboratory' },
        needed: 'Say whether you saw signs, or they were ruled out.',
      },
    ],
  },
  outcome: {
    title: 'How it ended',
    lookFor: ['Accepted: her own sealed worker brood is the proof.'],
    cautions: [],
    fields: [
      {
        key: 'outcome',
        type: 'choice',
        label: 'Outcome',
        needed: 'Say how it ended.',
        options: outcomeWords,
      },
    ],
  },
  grafted: {
    title: 'Larvae grafted',
    lookFor: ['Larvae of 12 to 24 hours, in a pool of jelly.'],
    cautions: [],
    fields: [
      {
        key: 'larvae',
        type: 'count',
        most: 400,
        first: 20,
        label: 'Larvae grafted',
        needed: 'Count the larvae.',
      },
    ],
  },
  'gate-overridden': {
    title: 'Went against the advice',
    lookFor: ['The reason is kept and shown.'],
    cautions: ['advice'],
    fields: [
      {
        key: 'gate',
        type: 'choice',
        label: 'About',
        needed: 'Say which answer you went against.',
        options: {
          'cut-cells': 'cutting cells',
          'hang-cage': 'hanging the cage',
          'open-candy': 'opening the candy end',
          'look-for-queen': 'looking for the queen',
        },
      },
      { key: 'reason', type: 'words', label: 'Why', needed: 'Say why in a few words.' },
    ],
  },
  note: { title: 'A note', lookFor: [], cautions: [], fields: [] },
} as const satisfies Partial<Record<FactKind, Form>>;
