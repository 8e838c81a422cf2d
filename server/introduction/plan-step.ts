/** One step of a plan: a visit to make, with its window and what it needs. */
export const planKinds = [
  'split',
  'queen-arrives',
  'cut-cells',
  'hang-cage',
  'second-look',
  'one-more-look',
  'test-frame-in',
  'test-frame-out',
  'open-candy',
  'look-for-queen',
  'look-again',
  'check-sealed-brood',
] as const;
export type PlanKind = (typeof planKinds)[number];

export interface PlanStep {
  /** The same for the same step of the same introduction, however often it is planned again. */
  readonly id: string;
  readonly introductionId: string;
  readonly nucId: string;
  readonly kind: PlanKind;
  readonly earliestMs: number;
  readonly targetMs: number;
  readonly latestMs: number;
  readonly done?: { readonly atMs: number; readonly factId: string };
  readonly whatToDo: string;
  readonly whatToBring: readonly string[];
  readonly why: readonly string[];
  /** What can't be kept: a day on which the keeper can't come, a queen that comes too late. */
  readonly clashes: readonly string[];
}

export interface PlanOptions {
  /** Hour of the day at which visits are planned; 10 where absent. */
  readonly visitHour?: number;
  /** Local dates YYYY-MM-DD on which nobody can come. */
  readonly unavailable?: readonly string[];
  /** Chance of a standing cell above which one more look is planned; 0.05 where absent. */
  readonly chanceLimit?: number;
}

/** What each kind of step is called in a list. */
export const planWords: Readonly<Record<PlanKind, string>> = {
  split: 'Make the split',
  'queen-arrives': 'Queen arrives',
  'cut-cells': 'Cut the cells',
  'hang-cage': 'Hang the cage',
  'second-look': 'Second look for cells',
  'one-more-look': 'One more look for cells',
  'test-frame-in': 'Put a test frame in',
  'test-frame-out': 'Take the test frame out',
  'open-candy': 'Open the candy end',
  'look-for-queen': 'Look for the queen',
  'look-again': 'Look again for eggs',
  'check-sealed-brood': 'Check the sealed brood',
};

export const whatToDo: Readonly<Record<PlanKind, string>> = {
  split:
    'Find the old queen and leave her in the parent colony. Move frames of sealed and open brood with their bees at least 10 m away.',
  'queen-arrives':
    'Take the queen in: is she alive, how many attendants? A drop of water on the mesh, dark and warm.',
  'cut-cells':
    'Shake the bees off every frame and destroy every queen cell. Count them and log open, sealed, emerged and torn-down cells.',
  'hang-cage': 'Hang the cage flat between two brood frames, held by a line, candy end closed.',
  'second-look': 'Look through every frame again, bees shaken off, and cut what is left.',
  'one-more-look':
    'Look through every frame once more, bees shaken off: the counts say that a cell may have been missed.',
  'test-frame-in': 'Put in a marked frame with eggs and young larvae from a healthy colony.',
  'test-frame-out':
    'Look at the marked frame: queen cells on it mean that no queen is there. Take it out whole, bees shaken off.',
  'open-candy': 'Watch the bees on the cage. If they are calm, open the candy end and close the nuc.',
  'look-for-queen': 'Is the cage empty, does the queen walk calmly, are there eggs? No longer than needed.',
  'look-again': 'Look for eggs again: the queen was seen, her eggs were not.',
  'check-sealed-brood':
    'Is her brood sealed flat, as worker brood is? Domed cappings in worker cells mean a drone layer.',
};

const always = ['veil', 'smoker', 'phone for the log'];
export const whatToBring: Readonly<Record<PlanKind, readonly string[]>> = {
  split: [...always, 'empty nuc box', 'frames of stores', 'entrance block'],
  'queen-arrives': ['water', 'pencil for the date on the cage'],
  'cut-cells': [...always, 'cell knife', 'torch', 'brush'],
  'hang-cage': ['caged queen, kept warm', 'line and pin for the cage'],
  'second-look': [...always, 'cell knife', 'torch', 'brush'],
  'one-more-look': [...always, 'cell knife', 'torch', 'brush'],
  'test-frame-in': [...always, 'marked frame with eggs and young larvae', 'brush'],
  'test-frame-out': [...always, 'brush', 'box for the frame'],
  'open-candy': [...always, 'tool for the candy end'],
  'look-for-queen': always,
  'look-again': always,
  'check-sealed-brood': always,
};
