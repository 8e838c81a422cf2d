/** What the simulator offers to the checks that lay estimators beside its truth. `PHYSICS.md` explains it. */
export { minuteOf, simulateNuc, type ScenarioOptions, type SimulatedNuc } from './nuc.ts';
export { cleanSeries, messagesByArrival, wireNames } from './sending/messages.ts';
export type { TrueEventKind } from './happenings.ts';
export { unseenRanges, usualRanges, type NucParameters } from './parameters.ts';
export { scenarioNames, type ScenarioName } from './scenarios.ts';
