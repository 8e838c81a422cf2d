/** Every rule, in the order in which they are listed. A new rule is a file and a line here. */
import { batteryLow } from './sensors/battery-low.ts';
import { beingRobbed } from './stores/being-robbed.ts';
import { boxGone } from './box/box-gone.ts';
import { boxLifted } from './box/box-lifted.ts';
import { boxToppled } from './box/box-toppled.ts';
import { brokerAway } from './server/broker-away.ts';
import { broodChilling } from './temperature/brood-chilling.ts';
import { broodDisease } from './health/brood-disease.ts';
import { broodTooHot } from './temperature/brood-too-hot.ts';
import { cageTooCold } from './temperature/cage-too-cold.ts';
import { cageTooHot } from './temperature/cage-too-hot.ts';
import { cageTooLong } from './queen/cage-too-long.ts';
import { chillingAhead } from './temperature/chilling-ahead.ts';
import { chillingTonight } from './temperature/chilling-tonight.ts';
import { colonyFailing } from './queen/colony-failing.ts';
import { diskFilling } from './server/disk-filling.ts';
import { disturbedInHandsOff } from './visits/disturbed-in-hands-off.ts';
import { everythingFrozen } from './sensors/everything-frozen.ts';
import { everythingSilent } from './sensors/everything-silent.ts';
import { foragersGone } from './foragers/foragers-gone.ts';
import { foragersHeldIn } from './foragers/foragers-held-in.ts';
import { foragersLeaving } from './foragers/foragers-leaving.ts';
import { layingWorkerDate } from './queen/laying-worker-date.ts';
import { leftInAMass } from './foragers/left-in-a-mass.ts';
import { notSteadying } from './queen/not-steadying.ts';
import { outsideMisplaced } from './sensors/outside-misplaced.ts';
import { probeOrNest } from './temperature/probe-or-nest.ts';
import type { Rule } from '../engine/rule.ts';
import { scaleDrifting } from './sensors/scale-drifting.ts';
import { scaleLostZero } from './sensors/scale-lost-zero.ts';
import { sensorImplausible } from './sensors/sensor-implausible.ts';
import { sensorClockBehind } from './sensors/sensor-clock-behind.ts';
import { sensorSilent } from './sensors/sensor-silent.ts';
import { sensorStuck } from './sensors/sensor-stuck.ts';
import { serverWasDown } from './server/server-was-down.ts';
import { steadyingTooEarly } from './queen/steadying-too-early.ts';
import { storesLow } from './stores/stores-low.ts';
import { tooStrongToAccept } from './queen/too-strong-to-accept.ts';
import { tooWeakToKeepWarm } from './temperature/too-weak-to-keep-warm.ts';
import { unlikeItsBatch } from './queen/unlike-its-batch.ts';
import { virginMayBeOut } from './queen/virgin-may-be-out.ts';
import { visitDue } from './visits/visit-due.ts';
import { visitOverdue } from './visits/visit-overdue.ts';
import { visitTooEarly } from './visits/visit-too-early.ts';

// oxfmt-ignore
const all = [
  // bees and brood
  broodChilling, chillingAhead, chillingTonight, broodTooHot, cageTooCold, cageTooHot, tooWeakToKeepWarm, probeOrNest,
  tooStrongToAccept, foragersGone, foragersLeaving, foragersHeldIn, leftInAMass, beingRobbed, storesLow,
  broodDisease,
  // the introduction
  visitDue, visitOverdue, visitTooEarly, virginMayBeOut, disturbedInHandsOff, cageTooLong, layingWorkerDate,
  notSteadying, steadyingTooEarly, unlikeItsBatch, colonyFailing,
  // the box
  boxToppled, boxGone, boxLifted,
  // what watches
  sensorSilent, sensorClockBehind, sensorStuck, sensorImplausible, batteryLow, scaleDrifting, scaleLostZero, outsideMisplaced,
  everythingSilent, everythingFrozen, brokerAway, serverWasDown, diskFilling,
] as const;

/** A mistyped id does not compile. */
export type RuleId = (typeof all)[number]['id'];
export const rules: readonly Rule<RuleId>[] = all;
