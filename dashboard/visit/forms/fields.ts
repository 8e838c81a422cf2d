/** The kinds of question that a form asks, and those that several forms share. An answer that is not given stays out. */
import type { Caution } from '../../words/cautions.ts';

export type Value = number | boolean | string;
/** Without a key for what was not answered. */
export type Values = Readonly<Record<string, Value>>;

interface Base {
  /** Dotted for what lies inside: `cells.open`. */
  readonly key: string;
  readonly label: string;
  readonly hint?: string;
  /** Said where it is not answered and the entry can't do without. */
  readonly needed?: string;
  /** Sent for no answer where the log takes none: it says that nobody looked. */
  readonly unsent?: Value;
  /** Each nuc has its own answer where an entry is for several. */
  readonly each?: true;
  /** Folded away at first. */
  readonly more?: true;
  /** Asked only where another question has this answer. */
  readonly onlyIf?: { readonly key: string; readonly is: Value };
  readonly drawing?: 'brood' | 'cells';
}
export type FormField = Base &
  (
    | { readonly type: 'count'; readonly most: number; readonly first?: number }
    | { readonly type: 'frames'; readonly first: number }
    /** A question with two answers. */
    | { readonly type: 'yes' }
    /** Ticked where it was seen; no tick says nothing. */
    | { readonly type: 'seen' }
    | { readonly type: 'choice'; readonly options: Readonly<Record<string, string>> }
    | {
        readonly type: 'amount';
        readonly most: number;
        /** What the first press of + says. */
        readonly first: number;
        readonly step: number;
        readonly unit: 'kg' | 'm';
      }
    | { readonly type: 'words' }
    | { readonly type: 'queen' }
  );

export interface Form {
  /** As the log's button says it. */
  readonly title: string;
  readonly lookFor: readonly string[];
  readonly cautions: readonly Caution[];
  /** In sight at once, not folded away. */
  readonly first?: Caution;
  readonly fields: readonly FormField[];
  /** What the log wants and there is no question about. */
  readonly given?: Values;
}

export const search: readonly FormField[] = [
  { key: 'everyFrameChecked', type: 'yes', label: 'Every frame checked?', hint: 'both sides', unsent: false },
  {
    key: 'framesSkipped',
    type: 'count',
    most: 12,
    label: 'Frames left out',
    onlyIf: { key: 'everyFrameChecked', is: false },
  },
  { key: 'beesShakenOff', type: 'yes', label: 'Bees shaken off?', unsent: false },
];

const cell = (kind: string, label: string, hint?: string): FormField => ({
  key: `cells.${kind}`,
  type: 'count',
  most: 200,
  label,
  each: true,
  ...(hint === undefined ? {} : { hint }),
});
export const cells: readonly FormField[] = [
  cell('open', 'Open cells'),
  cell('sealed', 'Sealed cells'),
  cell('emerged', 'Emerged cells', 'tip open like a lid'),
  cell('tornDown', 'Torn-down cells', 'open at the side'),
];
export const cellKeys: readonly string[] = cells.map(({ key }) => key);

export const seen = (key: string, label: string): FormField => ({
  key,
  type: 'seen',
  label,
  each: true,
  more: true,
});
/** Of brood that is no mated queen's. Where the eggs stand is asked once some were seen. */
export const signs = (eggsSeen: NonNullable<FormField['onlyIf']>): readonly FormField[] => [
  seen('severalEggsACell', 'Several eggs in a cell'),
  {
    key: 'eggsStand',
    type: 'choice',
    label: 'The eggs stand',
    options: { bottom: 'on the bottom', walls: 'on the walls' },
    onlyIf: eggsSeen,
    each: true,
    more: true,
  },
  seen('droneBroodInWorkerCells', 'Drone brood in worker cells'),
];
/** Asked only where she is under a mesh. */
export const eggsOutsideMesh: FormField = {
  key: 'eggsOutsideMesh',
  type: 'yes',
  label: 'Eggs outside the mesh?',
  onlyIf: { key: 'youngestBrood', is: 'eggs' },
  each: true,
  more: true,
};
export const virgin = seen('virginSeen', 'A virgin');

const cellsAlreadyThere: FormField = {
  key: 'cellsAlreadyThere',
  type: 'choice',
  label: 'Queen cells already there',
  unsent: 'not-looked',
  drawing: 'cells',
  options: {
    none: 'none',
    'present-and-removed': 'there, and taken out',
    'present-and-left': 'there, and left',
  },
};
/** As they stood when the colony lost its queen. */
export const cellsBefore: readonly FormField[] = [
  cellsAlreadyThere,
  {
    key: 'cellsTakenOut',
    type: 'count',
    most: 200,
    label: 'Cells taken out',
    each: true,
    onlyIf: { key: 'cellsAlreadyThere', is: 'present-and-removed' },
  },
];

export const youngest: FormField = {
  key: 'youngestBrood',
  type: 'choice',
  label: 'Youngest brood',
  unsent: 'not-looked',
  drawing: 'brood',
  options: {
    eggs: 'eggs',
    'young-larvae': 'young larvae',
    'old-larvae': 'old larvae',
    'sealed-only': 'sealed only',
    none: 'none',
  },
};

export const atCage: Readonly<Record<string, string>> = {
  feeding: 'feeding, fanning',
  indifferent: 'take no notice',
  biting: 'biting, clinging',
};
export const moods: Readonly<Record<string, string>> = {
  calm: 'calm',
  nervous: 'nervous',
  hostile: 'hostile',
};
export const temperament: FormField = {
  key: 'temperament',
  type: 'choice',
  label: 'Mood of the bees',
  options: moods,
  more: true,
};
export const queen: FormField = {
  key: 'queenId',
  type: 'queen',
  label: 'Queen',
  each: true,
  needed: 'Say which queen it is: a name or number that you give her.',
};
