/** An act that another asked for from an instant on is not done before it. */
import type { ActKind } from '../draft.ts';
import { pending, type Condition } from '../condition.ts';
import type { Situation } from '../situation.ts';

export function untilThen({ draftOf, nowMs }: Situation, kind: ActKind): Condition | null {
  const draft = draftOf(kind);
  return draft && !draft.done && nowMs < draft.earliestMs
    ? pending('Not yet', 'It tells nothing before that day.', { untilMs: draft.earliestMs })
    : null;
}
