/** Every rule, in the order in which they are listed. A new rule is a file and a line here. */
import { broodChilling } from './brood-chilling.ts';
import { cageTooCold } from './cage-too-cold.ts';
import { cageTooHot } from './cage-too-hot.ts';
import { foragersGone } from './foragers-gone.ts';
import { foragersLeaving } from './foragers-leaving.ts';
import type { Rule } from './rule.ts';
import { sensorSilent } from './sensor-silent.ts';
import { visitDue } from './visit-due.ts';

export const rules: readonly Rule[] = [
  foragersGone,
  foragersLeaving,
  broodChilling,
  cageTooCold,
  cageTooHot,
  visitDue,
  sensorSilent,
];
