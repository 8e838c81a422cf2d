/** Entries of the field log in a keeper's words, one line each. */
import { grams, type Say } from '../../words/phrase.ts';
import {
  cellCounts,
  type CellCounts,
  type EggPlace,
  type FactPayload,
  type IntroductionMethod,
} from '../../introduction/log/facts.ts';

const plural = (n: number, one: string, many = `${one}s`): string => `${String(n)} ${n === 1 ? one : many}`;

function cellsText({ open, sealed, emerged, tornDown }: CellCounts): string {
  const parts = [
    open > 0 ? `${String(open)} open` : '',
    sealed > 0 ? `${String(sealed)} sealed` : '',
    emerged > 0 ? `${String(emerged)} emerged` : '',
    tornDown > 0 ? `${String(tornDown)} torn down` : '',
  ].filter(Boolean);
  return parts.length === 0 ? 'no cells' : `${parts.join(', ')} cells`;
}

const completeText = (look: {
  readonly everyFrameChecked: boolean;
  readonly beesShakenOff: boolean;
}): string =>
  look.everyFrameChecked && look.beesShakenOff ? 'every frame, bees shaken off' : 'not a complete look';

const brood: Readonly<Record<string, string>> = {
  eggs: 'youngest brood: eggs',
  'young-larvae': 'youngest brood: young larvae',
  'old-larvae': 'youngest brood: old larvae',
  'sealed-only': 'sealed brood only',
  none: 'no brood',
  'not-looked': '',
};

const join = (...parts: readonly string[]): string => parts.filter(Boolean).join('; ');

const eggsStand: Readonly<Record<EggPlace, string>> = {
  bottom: 'eggs on the bottom of the cells',
  walls: 'eggs on the cell walls',
};

function warnings(fact: {
  readonly severalEggsACell?: boolean | undefined;
  readonly eggsStand?: EggPlace | undefined;
  readonly eggsOutsideMesh?: boolean | undefined;
  readonly droneBroodInWorkerCells?: boolean | undefined;
  readonly virginSeen?: boolean | undefined;
}): string {
  return join(
    fact.virginSeen === true ? 'a virgin was seen' : '',
    fact.severalEggsACell === true ? 'several eggs a cell' : '',
    fact.eggsStand === undefined ? '' : eggsStand[fact.eggsStand],
    fact.eggsOutsideMesh === undefined
      ? ''
      : `eggs ${fact.eggsOutsideMesh ? 'also outside' : 'only under'} the mesh`,
    fact.droneBroodInWorkerCells === true ? 'drone brood in worker cells' : '',
  );
}

const oldQueen = {
  'seen-in-parent': 'old queen seen in the parent colony',
  'seen-in-split-and-moved': 'old queen found in the split and taken back',
  'not-seen': 'old queen not seen',
} as const;

export function factWords(fact: FactPayload, method: IntroductionMethod | undefined, say: Say): string {
  const mesh = method === 'push-in-cage';
  switch (fact.kind) {
    case 'split-made':
      return `Split made: ${String(fact.framesOfBees)} frames of bees, ${String(fact.framesOfSealedBrood)} sealed and ${String(fact.framesOfOpenBrood)} open brood, ${String(fact.framesOfStores)} stores; ${oldQueen[fact.oldQueen]}`;
    case 'moved':
      return `Moved ${String(fact.metres)} m`;
    case 'inspection':
      return join(
        `Looked through: ${cellsText(cellCounts(fact.cells))} (${completeText(fact)})`,
        brood[fact.youngestBrood] ?? '',
        warnings(fact),
      );
    case 'cells-cut':
      return join(
        `Cells cut: ${cellsText(cellCounts(fact.cells))} (${completeText(fact)})`,
        brood[fact.youngestBrood] ?? '',
        fact.youngLarvaInOpenCell ? 'a young larva in an open cell' : '',
        warnings(fact),
      );
    case 'brood-frame-added':
      return `${fact.asTestFrame ? 'Test frame' : 'Frame of brood'} put in: ${fact.brood.replaceAll('-', ' ')}`;
    case 'brood-frame-taken':
      return `${fact.asTestFrame ? 'Test frame' : 'Frame of brood'} taken out${fact.cellsOnIt === undefined ? '' : `, ${plural(fact.cellsOnIt, 'cell')} on it`}`;
    case 'fed':
      return `Fed ${fact.feed.replaceAll('-', ' ')}${fact.kilograms === undefined ? '' : `, ${say(grams(fact.kilograms * 1000))}`}`;
    case 'queen-removed':
      return `A queen taken away: ${fact.which === 'old-queen' ? 'the old one' : fact.which === 'virgin' ? 'a virgin' : 'a young laying one'}`;
    case 'queen-escaped':
      return `The queen got out by accident${fact.to === 'not-known' ? '' : fact.to === 'outside' ? ' and flew off' : ' into the nuc'}`;
    case 'queen-arrived':
      return [
        `Queen arrived ${fact.condition}`,
        ...(fact.attendantsAlive === undefined ? [] : [`${plural(fact.attendantsAlive, 'attendant')} alive`]),
        ...(fact.origin === 'abroad' ? ['from abroad'] : []),
        ...(fact.daysInPost === undefined ? [] : [`${plural(fact.daysInPost, 'day')} in her cage before`]),
      ].join(', ');
    case 'cage-hung':
      return join(
        mesh ? 'Mesh pressed over the queen' : `Cage hung, candy end ${fact.candyEnd}`,
        fact.attendants === undefined
          ? ''
          : `attendants ${fact.attendants === 'in' ? 'left in' : 'taken out'}`,
      );
    case 'cage-checked':
      return `Bees at the cage: ${fact.behaviour}; queen ${fact.queenAlive ? 'alive' : 'dead'}`;
    case 'candy-opened':
      return `Candy end opened, plug ${fact.plug === 'whole' ? 'left whole' : 'pushed back'}`;
    case 'looked-for-queen':
      return join(
        `Looked for the queen: cage ${fact.cageEmpty ? 'empty' : 'not empty'}, queen ${fact.queenSeen ? 'seen' : 'not seen'}, eggs ${fact.eggsSeen ? 'seen' : 'not seen'}`,
        fact.sealedWorkerBroodSeen ? 'sealed worker brood' : '',
        fact.cellsTakenDown ? 'queen cells taken down' : '',
        `bees ${fact.behaviour}`,
        warnings(fact),
      );
    case 'balled':
      return fact.rescued ? 'Queen balled and rescued' : 'Queen balled and lost';
    case 'gate-overridden':
      return `Went ahead against the advice (${fact.gate.replaceAll('-', ' ')}): ${fact.reason}`;
    case 'outcome':
      return `Outcome: ${fact.outcome.replaceAll('-', ' ')}`;
    case 'brood-disease':
      return fact.found === 'signs' ? 'Signs of brood disease seen' : 'Brood disease ruled out';
    case 'note':
      return 'Note';
    case 'cage-taken-out':
      return mesh ? 'Mesh lifted' : 'Cage taken out';
    default:
      return plainWords(fact.kind);
  }
}

/** Kinds whose name says it all. */
function plainWords(kind: string): string {
  const words = kind.replaceAll('-', ' ');
  return words.charAt(0).toUpperCase() + words.slice(1);
}
