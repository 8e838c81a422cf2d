/** Every rule, in the order in which they are listed. A new rule is a file and a line here. */
import { batteryLow } from './battery-low.ts';
import { beingRobbed } from './being-robbed.ts';
import { boxGone } from './box-gone.ts';
import { boxLifted } from './box-lifted.ts';
import { boxToppled } from './box-toppled.ts';
import { brokerAway } from './broker-away.ts';
import { broodChilling } from './brood-chilling.ts';
import { broodTooHot } from './brood-too-hot.ts';
import { cageTooCold } from './cage-too-cold.ts';
import { cageTooHot } from './cage-too-hot.ts';
import { cageTooLong } from './cage-too-long.ts';
import { chillingAhead } from './chilling-ahead.ts';
import { chillingTonight } from './chilling-tonight.ts';
import { colonyFailing } from './colony-failing.ts';
import { diskFilling } from './disk-filling.ts';
import { disturbedInHandsOff } from './disturbed-in-hands-off.ts';
import { everythingSilent } from './everything-silent.ts';
import { foragersGone } from './foragers-gone.ts';
import { foragersHeldIn } from './foragers-held-in.ts';
import { foragersLeaving } from './foragers-leaving.ts';
import { layingWorkerDate } from './laying-worker-date.ts';
import { leftInAMass } from './left-in-a-mass.ts';
import { notSteadying } from './not-steadying.ts';
import type { Rule } from './rule.ts';
import { scaleDrifting } from './scale-drifting.ts';
import { sensorImplausible } from './sensor-implausible.ts';
import { sensorSilent } from './sensor-silent.ts';
import { sensorStuck } from './sensor-stuck.ts';
import { serverWasDown } from './server-was-down.ts';
import { steadyingTooEarly } from './steadying-too-early.ts';
import { storesLow } from './stores-low.ts';
import { tooStrongToAccept } from './too-strong-to-accept.ts';
import { tooWeakToKeepWarm } from './too-weak-to-keep-warm.ts';
import { unlikeItsBatch } from './unlike-its-batch.ts';
import { virginMayBeOut } from './virgin-may-be-out.ts';
import { visitDue } from './visit-due.ts';
import { visitOverdue } from './visit-overdue.ts';
import { visitTooEarly } from './visit-too-early.ts';

// prettier-ignore
export const rules: readonly Rule[] = [
  // bees and brood
  broodChilling, chillingAhead, chillingTonight, broodTooHot, cageTooCold, cageTooHot, tooWeakToKeepWarm,
  tooStrongToAccept, foragersGone, foragersLeaving, foragersHeldIn, leftInAMass, beingRobbed, storesLow,
  // the introduction
  visitDue, visitOverdue, visitTooEarly, virginMayBeOut, disturbedInHandsOff, cageTooLong, layingWorkerDate,
  notSteadying, steadyingTooEarly, unlikeItsBatch, colonyFailing,
  // the box
  boxToppled, boxGone, boxLifted,
  // what watches
  sensorSilent, sensorStuck, sensorImplausible, batteryLow, scaleDrifting, everythingSilent, brokerAway,
  serverWasDown, diskFilling,
];
