/** One gate by itself at an instant, where a test asks about a single one. */
import { answerFor } from '../../../server/introduction/acts/answer.ts';
import type { Gate, GateEvidence, GateName } from '../../../server/introduction/acts/gate.ts';
import { gateOf } from '../../../server/introduction/gates/views.ts';
import type { IntroductionState } from '../../../server/introduction/state.ts';

const gateAt =
  (gate: GateName) =>
  (state: IntroductionState, evidence: GateEvidence, nowMs: number): Gate =>
    gateOf(answerFor(state.nowMs === nowMs ? state : { ...state, nowMs }, evidence), gate);

export const mayCutCells = gateAt('cut-cells');
export const mayHangCage = gateAt('hang-cage');
export const mayLookForQueen = gateAt('look-for-queen');
export const mayOpenCandy = gateAt('open-candy');
