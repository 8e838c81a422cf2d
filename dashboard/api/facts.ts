/** Types of the field log, as the contract carries them. */
import type { BodyOf, ResponseOf } from '../../server/contract/index.ts';
import type { NucDetail } from '../../server/contract/nucs.ts';

export type LogEntry = NucDetail['log'][number]['entry'];
export type Observation = Extract<LogEntry, { type: 'fact' }>;
export type Fact = Observation['fact'];
export type FactKind = Fact['kind'];
export type StartingPoint = BodyOf<'openIntroduction'>['startingPoint'];
export type IntroductionMethod = BodyOf<'openIntroduction'>['method'];
export type Posted = ResponseOf<'postLog'>['items'][number];
