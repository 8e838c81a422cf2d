/**
 * What can be written down at the hive, as data: the fields of each kind of fact, what to look for, and the values of
 * the usual case, so that the usual case needs no change.
 */
import type { FactKind } from '../api/facts.ts';
import type { Caution } from '../words/cautions.ts';

export type Value = number | boolean | string;
export type Values = Readonly<Record<string, Value>>;

interface Base {
  /** Dotted for what lies inside: `cells.open`. */
  readonly key: string;
  readonly label: string;
  readonly hint?: string;
}
export type FormField =
  | (Base & {
      readonly type: 'count';
      readonly most: number;
      readonly usual: number;
      readonly optional?: boolean;
    })
  | (Base & { readonly type: 'frames'; readonly usual: number; readonly optional?: boolean })
  | (Base & { readonly type: 'yes'; readonly usual: boolean })
  | (Base & {
      readonly type: 'choice';
      readonly usual: string;
      readonly options: Readonly<Record<string, string>>;
    })
  | (Base & {
      readonly type: 'amount';
      readonly most: number;
      readonly usual: number;
      readonly step: number;
      readonly unit: 'kg' | 'm';
    })
  | (Base & { readonly type: 'words'; readonly usual: string });

export interface Form {
  readonly title: string;
  /** As the log's button says it. */
  readonly lookFor: readonly string[];
  readonly cautions: readonly Caution[];
  readonly fields: readonly FormField[];
}

const search: readonly FormField[] = [
  { key: 'everyFrameChecked', type: 'yes', usual: true, label: 'Every frame checked, both sides' },
  {
    key: 'beesShakenOff',
    type: 'yes',
    usual: true,
    label: 'Bees shaken off every frame',
    hint: 'A cell under a cluster of bees is the one that is missed.',
  },
];
const cells: readonly FormField[] = [
  { key: 'cells.open', type: 'count', most: 200, usual: 0, label: 'Open cells', hint: 'larva in sight' },
  { key: 'cells.sealed', type: 'count', most: 200, usual: 0, label: 'Sealed cells' },
  {
    key: 'cells.emerged',
    type: 'count',
    most: 200,
    usual: 0,
    label: 'Emerged cells',
    hint: 'tip opened like a lid',
  },
  {
    key: 'cells.tornDown',
    type: 'count',
    most: 200,
    usual: 0,
    label: 'Torn-down cells',
    hint: 'opened from the side',
  },
];
const signs: readonly FormField[] = [
  { key: 'severalEggsACell', type: 'yes', usual: false, label: 'Several eggs in a cell' },
  { key: 'droneBroodInWorkerCells', type: 'yes', usual: false, label: 'Drone brood in worker cells' },
];
const youngest = (usual: string): FormField => ({
  key: 'youngestBrood',
  type: 'choice',
  usual,
  label: 'Youngest brood seen',
  options: {
    eggs: 'eggs',
    'young-larvae': 'young larvae',
    'old-larvae': 'old larvae',
    'sealed-only': 'sealed only',
    none: 'none',
    'not-looked': 'did not look',
  },
});
const atCage: Readonly<Record<string, string>> = {
  feeding: 'feeding, fanning',
  indifferent: 'take no notice',
  biting: 'biting, clinging, trying to sting',
};
const mood: Readonly<Record<string, string>> = { calm: 'calm', nervous: 'nervous', hostile: 'hostile' };
const queen: FormField = {
  key: 'queenId',
  type: 'words',
  usual: '',
  label: 'Which queen',
  hint: 'the name or number you gave her',
};

export const forms: Readonly<Record<FactKind, Form>> = {
  'split-made': {
    title: 'Split made',
    lookFor: [
      'Find the old queen and leave her behind.',
      'Frames with nurse bees; no cells taken along unseen.',
    ],
    cautions: ['stings', 'lifting', 'disease'],
    fields: [
      {
        key: 'oldQueen',
        type: 'choice',
        usual: 'seen-in-parent',
        label: 'The old queen was',
        options: {
          'seen-in-parent': 'seen in the parent',
          'seen-in-split-and-moved': 'seen in the split, moved back',
          'not-seen': 'not seen',
        },
      },
      { key: 'framesOfBees', type: 'frames', usual: 3, label: 'Frames of bees' },
      { key: 'framesOfSealedBrood', type: 'frames', usual: 1, label: 'Frames of sealed brood' },
      { key: 'framesOfOpenBrood', type: 'frames', usual: 1, label: 'Frames of open brood' },
      { key: 'framesOfStores', type: 'frames', usual: 1, label: 'Frames of stores' },
      {
        key: 'cellsAlreadyThere',
        type: 'choice',
        usual: 'none',
        label: 'Queen cells already there',
        options: {
          none: 'none',
          'present-and-removed': 'there, and taken out',
          'present-and-left': 'there, and left',
          'not-looked': 'did not look',
        },
      },
    ],
  },
  moved: {
    title: 'Nuc moved',
    lookFor: ['At least about 10 m from the parent, so that its foragers fly home.'],
    cautions: ['lifting', 'electrics'],
    fields: [
      { key: 'metres', type: 'amount', most: 1_000_000, usual: 10, step: 5, unit: 'm', label: 'How far' },
    ],
  },
  'cells-cut': {
    title: 'Cells cut',
    lookFor: [
      'Every frame, both sides, bees shaken off.',
      'Corners, bottom bars and holes in the comb.',
      'A cell opened at its tip: a virgin may be out.',
    ],
    cautions: ['stings'],
    fields: [
      ...cells,
      ...search,
      { key: 'youngLarvaInOpenCell', type: 'yes', usual: false, label: 'A young larva in an open cell' },
      { key: 'virginSeen', type: 'yes', usual: false, label: 'A virgin seen' },
      youngest('not-looked'),
      ...signs,
      {
        key: 'temperament',
        type: 'choice',
        usual: '',
        label: 'Mood of the bees',
        options: { '': 'not noted', ...mood },
      },
    ],
  },
  inspection: {
    title: 'Looked in, cells left',
    lookFor: ['The youngest brood there is.', 'Cells, by kind; this entry leaves them standing.'],
    cautions: ['stings'],
    fields: [
      youngest('not-looked'),
      ...cells,
      ...search,
      { key: 'virginSeen', type: 'yes', usual: false, label: 'A virgin seen' },
      {
        key: 'framesOfBees',
        type: 'frames',
        usual: 0,
        optional: true,
        label: 'Frames of bees',
        hint: '0: not counted',
      },
      ...signs,
      {
        key: 'temperament',
        type: 'choice',
        usual: '',
        label: 'Mood of the bees',
        options: { '': 'not noted', ...mood },
      },
    ],
  },
  'queen-arrived': {
    title: 'Queen arrived',
    lookFor: [
      'Queen moving, attendants alive, candy soft.',
      'A drop of water on the mesh; keep her at room warmth, out of the sun.',
    ],
    cautions: ['imports'],
    fields: [
      queen,
      {
        key: 'condition',
        type: 'choice',
        usual: 'alive',
        label: 'She is',
        options: { alive: 'alive', weak: 'weak', dead: 'dead' },
      },
      { key: 'attendantsAlive', type: 'count', most: 40, usual: 8, label: 'Attendants alive' },
      {
        key: 'origin',
        type: 'choice',
        usual: '',
        label: 'She comes from',
        options: { '': 'not noted', own: 'my own stock', 'same-country': 'this country', abroad: 'abroad' },
      },
      {
        key: 'daysInPost',
        type: 'count',
        most: 30,
        usual: 0,
        optional: true,
        label: 'Days in her cage before she came',
        hint: '0: not known',
      },
    ],
  },
  'cage-hung': {
    title: 'Cage hung',
    lookFor: [
      'Flat between two brood frames, held by a line.',
      'Mesh free, so that the bees can feed her.',
      'Candy end closed until the nuc is ready.',
    ],
    cautions: ['stings'],
    fields: [
      queen,
      {
        key: 'candyEnd',
        type: 'choice',
        usual: 'closed',
        label: 'The candy end is',
        options: { closed: 'closed', open: 'open' },
      },
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
      { key: 'behaviour', type: 'choice', usual: 'feeding', label: 'Bees on the cage are', options: atCage },
      { key: 'queenAlive', type: 'yes', usual: true, label: 'The queen is alive' },
    ],
  },
  'candy-opened': {
    title: 'Candy end opened',
    lookFor: [
      'No cell, no virgin, no larva young enough.',
      'Calm bees on the cage.',
      'Close up, and keep hands off: never before three full days, better a week.',
    ],
    cautions: ['stings'],
    fields: [
      {
        key: 'plug',
        type: 'choice',
        usual: 'whole',
        label: 'The plug was',
        options: { whole: 'left whole', 'pushed-back': 'pushed back' },
      },
      {
        key: 'behaviour',
        type: 'choice',
        usual: 'feeding',
        label: 'Bees on the cage were',
        options: { '': 'not noted', ...atCage },
      },
    ],
  },
  'looked-for-queen': {
    title: 'Looked for the queen',
    lookFor: [
      'Is the cage empty?',
      'A queen walking calmly; eggs standing upright, one in a cell.',
      'Cells, or hostile bees around her.',
    ],
    cautions: ['stings'],
    fields: [
      { key: 'cageEmpty', type: 'yes', usual: true, label: 'The cage is empty' },
      { key: 'queenSeen', type: 'yes', usual: true, label: 'Queen seen' },
      { key: 'eggsSeen', type: 'yes', usual: false, label: 'Eggs seen' },
      { key: 'sealedWorkerBroodSeen', type: 'yes', usual: false, label: 'Sealed worker brood of hers seen' },
      ...cells,
      { key: 'behaviour', type: 'choice', usual: 'calm', label: 'The bees are', options: mood },
      ...signs,
    ],
  },
  fed: {
    title: 'Fed',
    lookFor: ['No spill outside the box: it calls robbers.'],
    cautions: [],
    fields: [
      {
        key: 'feed',
        type: 'choice',
        usual: 'syrup',
        label: 'With',
        options: {
          syrup: 'syrup',
          fondant: 'fondant',
          'frame-of-stores': 'a frame of stores',
          pollen: 'pollen',
        },
      },
      { key: 'kilograms', type: 'amount', most: 20, usual: 1, step: 0.25, unit: 'kg', label: 'How much' },
    ],
  },
  'brood-frame-added': {
    title: 'Brood frame put in',
    lookFor: ['Bees shaken off, no queen on it.', 'Only from a colony without signs of disease.'],
    cautions: ['disease'],
    fields: [
      {
        key: 'brood',
        type: 'choice',
        usual: 'sealed-only',
        label: 'Youngest brood on it',
        options: {
          'eggs-or-young-larvae': 'eggs or young larvae',
          'old-larvae': 'old larvae',
          'sealed-only': 'sealed only',
        },
      },
      {
        key: 'asTestFrame',
        type: 'yes',
        usual: false,
        label: 'As a test frame',
        hint: 'With eggs and young larvae, taken out whole again after a day or two.',
      },
    ],
  },
  'brood-frame-taken': {
    title: 'Brood frame taken out',
    lookFor: ['Shake the bees off; count the cells on it.'],
    cautions: [],
    fields: [
      { key: 'asTestFrame', type: 'yes', usual: true, label: 'It was the test frame' },
      { key: 'cellsOnIt', type: 'count', most: 200, usual: 0, label: 'Cells on it' },
    ],
  },
  'cage-taken-out': {
    title: 'Cage or mesh taken out',
    lookFor: [
      'Mesh lifted: no cell, no virgin, no larva young enough; calm bees on it.',
      'Does she walk calmly? Close up, and keep hands off: never before three full days, better a week.',
    ],
    cautions: ['stings'],
    fields: [
      {
        key: 'queen',
        type: 'choice',
        usual: 'left-in-nuc',
        label: 'The queen',
        options: {
          'left-in-nuc': 'walks on the comb',
          'in-the-cage': 'went out with the cage',
          '': 'not seen',
        },
      },
    ],
  },
  'queen-removed': {
    title: 'A queen taken away',
    lookFor: ['A queen that walked free: the old one, a virgin, or a young one that lays.'],
    cautions: ['stings'],
    fields: [
      {
        key: 'which',
        type: 'choice',
        usual: 'virgin',
        label: 'It was',
        options: {
          virgin: 'a virgin',
          'old-queen': 'the old queen',
          'young-queen': 'a young queen that lays',
        },
      },
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
        usual: 'not-known',
        label: 'Where she went',
        options: { 'into-the-nuc': 'into the nuc', outside: 'she flew off', 'not-known': 'nobody saw' },
      },
    ],
  },
  grafted: {
    title: 'Larvae grafted',
    lookFor: ['Larvae of 12 to 24 hours, in a pool of jelly.'],
    cautions: [],
    fields: [{ key: 'larvae', type: 'count', most: 400, usual: 20, label: 'Larvae grafted' }],
  },
  balled: {
    title: 'Queen balled',
    lookFor: ['Smoke or water parts the ball; cage her again.'],
    cautions: ['stings'],
    fields: [{ key: 'rescued', type: 'yes', usual: true, label: 'She was rescued' }],
  },
  'queen-dead': { title: 'Queen dead', lookFor: [], cautions: [], fields: [] },
  outcome: {
    title: 'How it ended',
    lookFor: ['Accepted: her own sealed worker brood is the proof.'],
    cautions: [],
    fields: [
      {
        key: 'outcome',
        type: 'choice',
        usual: 'accepted',
        label: 'Outcome',
        options: {
          accepted: 'accepted',
          'queen-lost': 'queen lost',
          'queen-killed': 'queen killed',
          'drone-layer': 'lays only drones',
          superseded: 'replaced by the bees',
          absconded: 'bees left',
          united: 'united with another colony',
          'given-up': 'given up',
        },
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
        usual: 'open-candy',
        label: 'About',
        options: {
          'cut-cells': 'cutting cells',
          'hang-cage': 'hanging the cage',
          'open-candy': 'opening the candy end',
          'look-for-queen': 'looking for the queen',
        },
      },
      { key: 'reason', type: 'words', usual: '', label: 'Why' },
    ],
  },
  note: { title: 'A note', lookFor: [], cautions: [], fields: [] },
};

/** In the order in which they are offered. */
export const kindsInOrder: readonly FactKind[] = [
  'cells-cut',
  'candy-opened',
  'looked-for-queen',
  'inspection',
  'cage-hung',
  'cage-checked',
  'queen-arrived',
  'fed',
  'split-made',
  'moved',
  'brood-frame-added',
  'brood-frame-taken',
  'cage-taken-out',
  'balled',
  'queen-removed',
  'queen-escaped',
  'queen-dead',
  'outcome',
  'grafted',
  'gate-overridden',
  'note',
];
