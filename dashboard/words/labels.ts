/** Names of the contract's kinds, in the trade's words. */
import type { AlertDto } from '../../server/contract/alerts.ts';
import type { Place } from '../../server/contract/common.ts';
import type { GateDto } from '../../server/contract/nucs.ts';
import type { Arrival } from '../../server/contract/plan.ts';
import type { IntroductionMethod, StartingPoint } from '../api/facts.ts';
import { dateInWords } from '../format/when.ts';

/** A delivery of queens where one is chosen. */
export const deliveryWords = ({ name, arrived, expected }: Arrival): string =>
  `${name}, ${dateInWords(arrived ?? expected)}`;

export const urgencyWords: Readonly<Record<AlertDto['urgency'], string>> = {
  now: 'now',
  today: 'today',
  'next-visit': 'next visit',
};

export const placeWords: Readonly<Record<Place, string>> = {
  scale: 'scale under the nuc',
  brood: 'brood frame',
  cage: 'beside the cage',
  outside: 'outside',
  rain: 'rain',
  humidity: 'humidity',
  battery: 'battery',
};

const answerWords: Readonly<Record<GateDto['answer'], string>> = {
  go: 'go',
  wait: 'wait',
  stop: 'stop',
};
/** "Done" for what is not to be done only because it was. */
export const answerOf = ({ answer, done }: Pick<GateDto, 'answer' | 'done'>): string =>
  done ? 'done' : answerWords[answer];

export const startingPointWords: Readonly<Record<StartingPoint, string>> = {
  'planned-split': 'a planned split',
  'queenless-with-cells': 'queenless, with cells',
  'hopelessly-queenless': 'queenless, nothing left to raise a queen from',
  'own-laying-queen': 'a laying queen moved from my own stock',
  'requeened-in-place': 'requeened in place, the old queen found and taken',
};
export const methodWords: Readonly<Record<IntroductionMethod, string>> = {
  'candy-cage': 'cage with a candy plug',
  'push-in-cage': 'mesh cage pressed over emerging brood',
};

export const phaseWords: Readonly<Record<AlertDto['phase'], string>> = {
  holding: 'building up',
  raised: 'raised',
  'no-data': 'no data to tell',
  clearing: 'easing',
  'put-off': 'put off',
  cleared: 'over',
  closed: 'closed',
};

export const healthWords = { fresh: 'fresh', late: 'late', silent: 'silent', new: 'new' } as const;

export const quantityWords = {
  weight: 'weight',
  temperature: 'temperature',
  humidity: 'humidity',
  battery: 'battery',
  rain: 'rain',
} as const;

export const roleWords = {
  keeper: 'keeper: may do everything',
  helper: 'helper: logs visits and answers alerts',
  viewer: 'viewer: only looks',
} as const;

export const outcomeWords = {
  accepted: 'accepted',
  'queen-lost': 'queen lost',
  'queen-killed': 'queen killed',
  'drone-layer': 'lays only drones',
  superseded: 'replaced by the bees',
  absconded: 'bees left',
  united: 'united with another colony',
  'given-up': 'given up',
} as const;
