/** What a queen raiser would add to each act, a line each, with what it rests on. */
import type { IntroductionSetup } from '../log/setup.ts';
import type { ActKind } from './draft.ts';

export interface GoodToKnow {
  readonly text: string;
  /** `common practice`, or where it was read. */
  readonly source: string;
  /** Of a cage with candy alone: under a mesh there is none. */
  readonly candyCage?: true;
}

const practice = (text: string): GoodToKnow => ({ text, source: 'common practice' });
const ofCandyCage = (text: string): GoodToKnow => ({ ...practice(text), candyCage: true });
const read = (text: string, source: string): GoodToKnow => ({ text, source });

const timeOfDay = practice('Warm, calm hours in a flow are best; not in rain, at dusk or while bees rob.');
const twoQueens = practice(
  'A mother and her daughter may lay side by side: one queen found does not rule out another.',
);

const notes: Readonly<Partial<Record<ActKind, readonly GoodToKnow[]>>> = {
  split: [
    practice('Narrow the entrance at once: a queenless split is robbed first.'),
    practice('Shake in nurse bees of two more brood frames: foragers fly home, nurses stay.'),
    practice('Within a day queenless bees fan and roar. When the roar ends they have cells, or a queen.'),
    practice('Give look-alike nucs marks and different headings, so that bees and queens drift less.'),
    practice(
      'Late in the season fewer drones fly and robbers are about: keep it stronger, or unite instead.',
    ),
    twoQueens,
  ],
  'queen-arrives': [
    read(
      'While she waits: a drop of water on the mesh daily; dark, room warmth, away from sprays.',
      'practice page of a queen breeder; COLOSS BEEBOOK I, queen rearing, 2.3.2',
    ),
    read(
      'Attendants in or out: keepers differ, and both work. Take them out behind a closed window; log it.',
      'a queen breeder’s page for out, a trade FAQ for in',
    ),
  ],
  'cut-cells': [
    timeOfDay,
    practice('Shake, don’t brush: cells hide under bees, at the edges and in holes of the comb.'),
  ],
  'second-look': [timeOfDay],
  'hang-cage': [
    practice('Near brood, never on honey: bees come to brood, and honey drips.'),
    ofCandyCage(
      'Mesh towards the seam; candy end sideways or slightly up, so that dead attendants can’t block the way out.',
    ),
    ofCandyCage('Feel the candy: a hard plug needs a drop of water, a soft or thin one is covered again.'),
    ofCandyCage('Tape over the candy end, or its cap on, until the day on which she is let out.'),
    practice('In a dearth feed thin syrup a day before and after: fed bees feed her.'),
  ],
  'open-candy': [
    ofCandyCage('Is the way out free? Pull dead attendants from it.'),
    ofCandyCage(
      'A plug under about a centimetre: cover it again with candy, so that release takes a day or more.',
    ),
    timeOfDay,
  ],
  'free-queen': [
    ofCandyCage(
      'Cage still full on day 5: pull dead attendants from the way out, then make a pencil-wide hole.',
    ),
  ],
  'watch-cage': [
    practice(
      'Balled: water on the ball first, never smoke; free her, look at legs and wings, cage her again.',
    ),
  ],
  'look-for-queen': [
    practice('Eggs, one in a cell, are proof enough: she need not be found.'),
    practice(
      'Balled: water on the ball first, never smoke; free her, look at legs and wings, cage her again.',
    ),
    timeOfDay,
  ],
  'look-again': [twoQueens],
  'check-sealed-brood': [
    practice('Mark her now, not before: a young queen that was handled may be superseded.'),
  ],
  unite: [
    practice(
      'Laying workers: unite with a strong queenright colony, or shake out; a bought queen is lost on them.',
    ),
  ],
};

/** Empty where nothing is to be added. */
export const goodToKnow = (kind: ActKind, method: IntroductionSetup['method']): readonly GoodToKnow[] =>
  (notes[kind] ?? []).filter(({ candyCage }) => candyCage === undefined || method === 'candy-cage');
