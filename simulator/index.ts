/** What the simulator offers to the checks that lay estimators beside its truth. `PHYSICS.md` explains it. */
export { minuteOf, simulateNuc, type ScenarioOptions, type SimulatedNuc } from './nuc.ts';
export { cleanSeries, messagesByArrival, wireNames, type SimMessage } from './messages.ts';
export type { PlaceReadings } from './delivery.ts';
export type { FaultKind, Place, SensorFault } from './faults.ts';
export type { TrueEvent, TrueEventKind } from './happenings.ts';
export { usualRanges, unseenRanges, type NucParameters } from './parameters.ts';
export type { SimPlace } from './place.ts';
export { diceOf, type Dice } from './random.ts';
export { scenarioNames, type IntroductionDays, type ScenarioName } from './scenarios.ts';
export type { ChillInterval, Truth } from './truth.ts';
