/** Entries of the field log in a keeper's words, one line each. */
import { grams, metres, type Say } from '../../words/phrase.ts';
import type {
  CellCounts,
  EggPlace,
  FactKind,
  FactPayload,
  IntroductionMethod,
  YoungestBrood,
} from '../../introduction/log/facts.ts';

const plural = (n: number, one: string, many = `${one}s`): string => `${String(n)} ${n === 1 ? one : many}`;
const join = (...parts: readonly string[]): string => parts.filter(Boolean).join('; ');
const spaced = (kind: string): string => kind.replaceAll('-', ' ');

type FactOf<K extends FactKind> = Extract<FactPayload, { readonly kind: K }>;
type Look = FactOf<'inspection'> | FactOf<'cells-cut'>;

const cellNames: Readonly<Record<keyof CellCounts, string>> = {
  open: 'open',
  sealed: 'sealed',
  emerged: 'emerged',
  tornDown: 'torn down',
};

function cellsText(counted: Look['cells']): string {
  const kinds = Object.keys(cellNames) as (keyof CellCounts)[];
  if (kinds.every((kind) => counted[kind] === undefined)) return 'cells not counted';
  const parts = kinds.flatMap((kind) => {
    const count = counted[kind] ?? 0;
    return count > 0 ? [`${String(count)} ${cellNames[kind]}`] : [];
  });
  return parts.length === 0 ? 'no cells' : `${parts.join(', ')} cells`;
}

function searchText({ everyFrameChecked, beesShakenOff, framesSkipped }: Look): string {
  const skipped =
    framesSkipped === undefined ? 'not every frame' : `${plural(framesSkipped, 'frame')} left out`;
  return `${everyFrameChecked ? 'every frame' : skipped}, bees ${beesShakenOff ? '' : 'not '}shaken off`;
}

const brood: Readonly<Record<YoungestBrood, string>> = {
  eggs: 'youngest brood: eggs',
  'young-larvae': 'youngest brood: young larvae',
  'old-larvae': 'youngest brood: old larvae',
  'sealed-only': 'sealed brood only',
  none: 'no brood',
  'not-looked': '',
};

const eggsStand: Readonly<Record<EggPlace, string>> = {
  bottom: 'eggs on the bottom of the cells',
  walls: 'eggs on the cell walls',
};

function signsText(fact: Look | FactOf<'looked-for-queen'>): string {
  return join(
    fact.severalEggsACell === true ? 'several eggs a cell' : '',
    fact.eggsStand === undefined ? '' : eggsStand[fact.eggsStand],
    fact.droneBroodInWorkerCells === true ? 'drone brood in worker cells' : '',
  );
}

function lookText(what: string, fact: Look): string {
  return join(
    `${what}: ${cellsText(fact.cells)} (${searchText(fact)})`,
    brood[fact.youngestBrood],
    fact.virginSeen === true ? 'a virgin was seen' : '',
    signsText(fact),
    fact.eggsOutsideMesh === undefined
      ? ''
      : `eggs ${fact.eggsOutsideMesh ? 'also outside' : 'only under'} the mesh`,
    fact.temperament === undefined ? '' : `bees ${fact.temperament}`,
  );
}

const oldQueen: Readonly<Record<FactOf<'split-made'>['oldQueen'], string>> = {
  'seen-in-parent': 'old queen seen in the parent colony',
  'seen-in-split-and-moved': 'old queen found in the split and taken back',
  'not-seen': 'old queen not seen',
};

const cellsBefore: Readonly<Record<FactOf<'split-made'>['cellsAlreadyThere'], string>> = {
  none: 'no queen cells there',
  'present-and-removed': 'queen cells taken out',
  'present-and-left': 'queen cells left in',
  'not-looked': 'not looked for queen cells',
};
const cellsBeforeText = ({
  cellsAlreadyThere: there,
  cellsTakenOut: out,
}: Pick<FactOf<'queen-removed'>, 'cellsAlreadyThere' | 'cellsTakenOut'>): string => {
  if (there === undefined) return '';
  return out === undefined ? cellsBefore[there] : `${cellsBefore[there]}: ${String(out)}`;
};

const removedQueen: Readonly<Record<FactOf<'queen-removed'>['which'], string>> = {
  'old-queen': 'the old one',
  virgin: 'a virgin',
  'young-queen': 'a young laying one',
};

const escapedTo: Readonly<Record<FactOf<'queen-escaped'>['to'], string>> = {
  'into-the-nuc': ' into the nuc',
  outside: ' and flew off',
  'not-known': '',
};

const broodFrame = ({ asTestFrame }: { readonly asTestFrame: boolean }): string =>
  asTestFrame ? 'Test frame' : 'Frame of brood';

interface Context {
  /** She goes in under a mesh that is pressed into the comb, not in a cage with candy. */
  readonly mesh: boolean;
  readonly say: Say;
}

const wordsOf: { readonly [K in FactKind]: (fact: FactOf<K>, context: Context) => string } = {
  'split-made': (fact) =>
    join(
      `Split made: ${plural(fact.framesOfBees, 'frame')} of bees, ${String(fact.framesOfSealedBrood)} sealed and ${String(fact.framesOfOpenBrood)} open brood, ${String(fact.framesOfStores)} stores`,
      oldQueen[fact.oldQueen],
      cellsBeforeText(fact),
    ),
  moved: (fact, { say }) => `Moved ${say(metres(fact.metres))}`,
  inspection: (fact) =>
    join(
      lookText('Looked through', fact),
      fact.layingQueenSeen === true ? 'a laying queen was seen' : '',
      fact.framesOfBees === undefined ? '' : `${plural(fact.framesOfBees, 'frame')} of bees`,
    ),
  'cells-cut': (fact) =>
    join(lookText('Cells cut', fact), fact.youngLarvaInOpenCell ? 'a young larva in an open cell' : ''),
  'brood-frame-added': (fact) => `${broodFrame(fact)} put in: ${spaced(fact.brood)}`,
  'brood-frame-taken': (fact) =>
    `${broodFrame(fact)} taken out${fact.cellsOnIt === undefined ? '' : `, ${plural(fact.cellsOnIt, 'cell')} on it`}`,
  fed: ({ feed, kilograms }, { say }) =>
    `Fed ${spaced(feed)}${kilograms === undefined ? '' : `, ${say(grams(kilograms * 1000))}`}`,
  'queen-removed': (fact) => join(`A queen taken away: ${removedQueen[fact.which]}`, cellsBeforeText(fact)),
  'queen-escaped': ({ to }) => `The queen got out by accident${escapedTo[to]}`,
  'queen-arrived': ({ condition, attendantsAlive, origin, daysInPost }) =>
    [
      `Queen arrived ${condition}`,
      attendantsAlive === undefined ? '' : `${plural(attendantsAlive, 'attendant')} alive`,
      origin === 'abroad' ? 'from abroad' : '',
      daysInPost === undefined ? '' : `${plural(daysInPost, 'day')} in her cage before`,
    ]
      .filter(Boolean)
      .join(', '),
  'cage-hung': ({ candyEnd, attendants }, { mesh }) =>
    join(
      mesh ? 'Mesh pressed over the queen' : `Cage hung, candy end ${candyEnd}`,
      attendants === undefined ? '' : `attendants ${attendants === 'in' ? 'left in' : 'taken out'}`,
    ),
  'cage-checked': ({ behaviour, queenAlive }) =>
    `Bees at the cage: ${behaviour}; queen ${queenAlive ? 'alive' : 'dead'}`,
  'cage-taken-out': ({ queen, forAnotherNuc }, { mesh }) =>
    join(
      mesh ? 'Mesh lifted' : 'Cage taken out',
      queen === undefined ? '' : queen === 'in-the-cage' ? 'the queen went out with it' : 'the queen stayed',
      forAnotherNuc === true ? 'she went into another nuc' : '',
    ),
  'candy-opened': ({ plug, behaviour }) =>
    join(
      `Candy end opened, plug ${plug === 'whole' ? 'left whole' : 'pushed back'}`,
      behaviour === undefined ? '' : `bees at the cage: ${behaviour}`,
    ),
  'looked-for-queen': (fact) =>
    join(
      `Looked for the queen: cage ${fact.cageEmpty ? 'empty' : 'not empty'}, queen ${fact.queenSeen ? 'seen' : 'not seen'}, eggs ${fact.eggsSeen ? 'seen' : 'not seen'}`,
      fact.sealedWorkerBroodSeen ? 'sealed worker brood' : '',
      Object.keys(fact.cells).length === 0 ? '' : cellsText(fact.cells),
      fact.cellsTakenDown ? 'queen cells taken down' : '',
      `bees ${fact.behaviour}`,
      signsText(fact),
    ),
  balled: ({ rescued }) => (rescued ? 'Queen balled and rescued' : 'Queen balled and lost'),
  'queen-dead': () => 'Queen dead',
  'gate-overridden': ({ gate, reason }) => `Went ahead against the advice (${spaced(gate)}): ${reason}`,
  'brood-disease': ({ found }) =>
    found === 'signs' ? 'Signs of brood disease seen' : 'Brood disease ruled out',
  outcome: ({ outcome }) => `Outcome: ${spaced(outcome)}`,
  grafted: ({ larvae }) => `Grafted ${plural(larvae, 'larva', 'larvae')}`,
  note: () => 'Note',
};

export function factWords(fact: FactPayload, method: IntroductionMethod | undefined, say: Say): string {
  const words = wordsOf[fact.kind] as (fact: FactPayload, context: Context) => string;
  return words(fact, { mesh: method === 'push-in-cage', say });
}
