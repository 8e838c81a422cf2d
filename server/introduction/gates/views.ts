/** A gate is the permission of an act, as the page and `/api/v1` show it. */
import type { Answer } from '../acts/answer.ts';
import { workersChance } from '../acts/rows/worker-conditions.ts';
import { gateNames, type Gate, type GateName } from '../acts/gate.ts';
import { withOverride } from './override.ts';

const goHeadlines: Readonly<Record<GateName, string>> = {
  'cut-cells': 'Cut every queen cell, on every frame, bees shaken off',
  'hang-cage': 'Hang the cage, candy end closed',
  'open-candy': 'Open the candy end',
  'look-for-queen': 'Look for the queen and her eggs',
};

const underMesh: Readonly<Partial<Record<GateName, string>>> = {
  'hang-cage': 'Press the mesh over her',
  'open-candy': 'Lift the mesh',
};

export function gateOf({ situation, permissionOf }: Answer, gate: GateName): Gate {
  const { state, sure } = situation;
  const { answer, headline, untilMs, reasons } = permissionOf(gate);
  const mesh = state.setup.method === 'push-in-cage';
  // The cage hangs, and its way out is open too early.
  const again =
    gate === 'hang-cage' && situation.draftOf('close-candy') ? 'Tape the candy end again' : undefined;
  const certain = answer === 'stop' || gate !== 'open-candy' ? null : sure();
  const workers = answer === 'stop' || gate !== 'open-candy' ? null : workersChance(state, situation.nowMs);
  return withOverride(state, {
    gate,
    answer,
    headline: headline ?? again ?? (mesh ? underMesh[gate] : undefined) ?? goHeadlines[gate],
    ...(untilMs === undefined ? {} : { untilMs }),
    reasons,
    ...(certain ? { chanceOfStandingCell: certain.chance } : {}),
    ...(workers === null ? {} : { chanceOfLayingWorkers: workers }),
    ...(certain?.oneMoreLook ? { oneMoreLook: certain.oneMoreLook } : {}),
  });
}

export const gatesOf = (answer: Answer): readonly Gate[] => gateNames.map((name) => gateOf(answer, name));
