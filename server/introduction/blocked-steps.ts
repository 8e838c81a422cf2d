/** A step that its gate forbids is blocked: it is never due nor overdue, and says what blocks it. */
import { startOfDayAfter } from './calendar.ts';
import type { Gate, GateName } from './gates/gate.ts';
import type { PlanKind, PlanStep } from './plan-step.ts';

const gateOf: Readonly<Partial<Record<PlanKind, GateName>>> = {
  'cut-cells': 'cut-cells',
  'second-look': 'cut-cells',
  'one-more-look': 'cut-cells',
  'hang-cage': 'hang-cage',
  'open-candy': 'open-candy',
  'look-for-queen': 'look-for-queen',
  'look-again': 'look-for-queen',
  'check-sealed-brood': 'look-for-queen',
};

/**
 * The plan with `blocked` on each step that is not done and whose gate says stop, or says wait although the step's
 * day has come (in `timeZone`) and the wait doesn't end by the planned time.
 */
export function blockedSteps(
  plan: readonly PlanStep[],
  gates: readonly Gate[],
  nowMs: number,
  timeZone: string,
): readonly PlanStep[] {
  const tomorrowMs = startOfDayAfter(nowMs, 1, timeZone);
  return plan.map((step) => {
    const gate = gates.find((one) => one.gate === gateOf[step.kind]);
    if (step.done || !gate || gate.answer === 'go') return step;
    const { answer, headline, untilMs } = gate;
    const waitsLonger = step.targetMs < tomorrowMs && (untilMs === undefined || untilMs > step.targetMs);
    if (answer === 'wait' && !waitsLonger) return step;
    return { ...step, blocked: { answer, by: headline, ...(untilMs === undefined ? {} : { untilMs }) } };
  });
}
