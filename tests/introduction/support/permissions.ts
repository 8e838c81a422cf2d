/** Tables of what may be done, what stands against it and which act comes first. */
import { expect, it } from 'vitest';
import { answerFor } from '../../../server/introduction/acts/answer.ts';
import type { ActKind } from '../../../server/introduction/acts/draft.ts';
import { noEvidence, type GateEvidence } from '../../../server/introduction/acts/gate.ts';
import type { IntroductionSetup } from '../../../server/introduction/log/setup.ts';
import type { Entries } from './conditions.ts';
import { stateAt } from './field-log.ts';

export interface Row {
  readonly name: string;
  readonly log: Entries;
  readonly now: number;
  readonly over?: Partial<IntroductionSetup>;
  readonly evidence?: Partial<GateEvidence>;
  readonly answer: 'go' | 'wait' | 'stop';
  /** The act that decides. */
  readonly first?: ActKind;
  readonly untilMs?: number;
  /** Another act that comes first, and words of why. */
  readonly has?: readonly [ActKind, string];
  /** Words among its reasons, and words that are in none. */
  readonly says?: string;
  readonly notSays?: string;
}
export const may = (act: ActKind, rows: readonly Row[]): void => {
  it.each(rows)('$name: $answer', (row) => {
    const state = stateAt(row.log, row.now, row.over);
    const permission = answerFor(state, { ...noEvidence, ...row.evidence }).permissionOf(act);
    expect([permission.answer, permission.first[0]?.kind, permission.untilMs]).toEqual([
      row.answer,
      row.first,
      row.untilMs,
    ]);
    for (const [kind, why] of row.has ? [row.has] : [])
      expect(permission.first.some((one) => one.kind === kind && one.because.includes(why))).toBe(true);
    const reasons = permission.reasons.map(({ text }) => text).join(' ');
    if (row.says) expect(reasons).toContain(row.says);
    if (row.notSays) expect(reasons).not.toContain(row.notSays);
  });
};
