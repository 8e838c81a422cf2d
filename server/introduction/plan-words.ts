/** What is said of each kind of step: its name, what to do and bring, and the fact that logs it. */
import type { FactKind, IntroductionMethod } from './facts.ts';
import type { PlanKind, PlanStep } from './plan-step.ts';

type Words = Pick<PlanStep, 'label' | 'whatToDo' | 'whatToBring' | 'logAs'>;

const always = ['veil', 'smoker', 'phone for the log'];
const forCells = [...always, 'cell knife', 'torch', 'brush'];

const words = (
  label: string,
  logAs: FactKind,
  whatToDo: string,
  whatToBring: readonly string[] = always,
): Words => ({ label, logAs, whatToDo, whatToBring });

const byKind: Readonly<Record<PlanKind, Words>> = {
  split: words(
    'Make the split',
    'split-made',
    'Find the old queen and leave her in the parent colony. Move frames of sealed and open brood with their bees at least 10 m away.',
    [...always, 'empty nuc box', 'frames of stores', 'entrance block'],
  ),
  'queen-arrives': words(
    'Queen arrives',
    'queen-arrived',
    'Take the queen in: is she alive, how many attendants? A drop of water on the mesh, dark and warm.',
    ['water', 'pencil for the date on the cage'],
  ),
  'cut-cells': words(
    'Cut the cells',
    'cells-cut',
    'Shake the bees off every frame and destroy every queen cell. Count them and log open, sealed, emerged and torn-down cells.',
    forCells,
  ),
  'hang-cage': words(
    'Hang the cage',
    'cage-hung',
    'Hang the cage flat between two brood frames, held by a line, candy end closed.',
    ['caged queen, kept warm', 'line and pin for the cage'],
  ),
  'second-look': words(
    'Second look for cells',
    'cells-cut',
    'Look through every frame again, bees shaken off, and cut what is left.',
    forCells,
  ),
  'one-more-look': words(
    'One more look for cells',
    'cells-cut',
    'Look through every frame once more, bees shaken off: the counts say that a cell may have been missed.',
    forCells,
  ),
  'test-frame-in': words(
    'Put a test frame in',
    'brood-frame-added',
    'Put in a marked frame with eggs and young larvae from a healthy colony.',
    [...always, 'marked frame with eggs and young larvae', 'brush'],
  ),
  'test-frame-out': words(
    'Take the test frame out',
    'brood-frame-taken',
    'Look at the marked frame: queen cells on it mean that no queen is there. Take it out whole, bees shaken off.',
    [...always, 'brush', 'box for the frame'],
  ),
  'open-candy': words(
    'Open the candy end',
    'candy-opened',
    'Watch the bees on the cage. If they are calm, open the candy end and close the nuc.',
    [...always, 'tool for the candy end'],
  ),
  'look-for-queen': words(
    'Look for the queen',
    'looked-for-queen',
    'Is the cage empty, does the queen walk calmly, are there eggs? No longer than needed.',
  ),
  'look-again': words(
    'Look again for eggs',
    'looked-for-queen',
    'Look for eggs again: the queen was seen, her eggs were not.',
  ),
  'check-sealed-brood': words(
    'Check the sealed brood',
    'looked-for-queen',
    'Is her brood sealed flat, as worker brood is? Domed cappings in worker cells mean a drone layer.',
  ),
};

/** Where the queen sits under mesh that is pressed over emerging brood. */
const underMesh: Readonly<Partial<Record<PlanKind, Words>>> = {
  'hang-cage': words(
    'Press the mesh over her',
    'cage-hung',
    'Let the queen onto emerging brood with some open stores, without her attendants, and press the mesh into the comb around her so that no bee gets under it.',
    ['queen, kept warm', 'mesh to press in', ...always],
  ),
  'open-candy': words(
    'Lift the mesh',
    'cage-taken-out',
    'Watch the bees on the mesh. If they are calm, lift it off and let her walk onto the comb; close the nuc.',
  ),
  'look-for-queen': words(
    'Look for the queen',
    'looked-for-queen',
    'Does the queen walk calmly, are there eggs? No longer than needed.',
  ),
};

const searchAgain = words(
  'Look again for the queen',
  'looked-for-queen',
  'Look for her and for eggs again, on every frame: she was not found, which does not mean that she is gone.',
);

/** `notFound`: the last looks did not find her. */
export const stepWords = (kind: PlanKind, method: IntroductionMethod, notFound = false): Words =>
  (notFound && kind === 'look-again' ? searchAgain : undefined) ??
  (method === 'push-in-cage' ? underMesh[kind] : undefined) ??
  byKind[kind];
