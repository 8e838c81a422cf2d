/** Where an introduction stands; in words: `stage-words.ts`. */
import { foragersLeaveDays, handsOffDays } from '../biology/figures.ts';
import { dayNumber, startOfDayAfter } from './calendar.ts';
import { candyGoneMs } from './queen/candy.ts';
import { earliestLook } from './queen/earliest-look.ts';
import type { FactPayload, IntroductionMethod } from './log/facts.ts';
import type { QueenState } from './queen/queen-state.ts';

export const stages = [
  'planned',
  'foragers-leaving',
  'waiting-to-cut',
  'second-look-due',
  'waiting-for-queen',
  'caged',
  'candy-open',
  'hands-off',
  'check-due',
  'accepted',
  'failed',
  'closed',
] as const;
export type Stage = (typeof stages)[number];

type Outcome = Extract<FactPayload, { kind: 'outcome' }>['outcome'];

export interface Progress {
  readonly startedAtMs: number | null;
  readonly queen: QueenState;
  readonly lateLooks: number;
  readonly twoLateLooks: boolean;
  readonly anyCut: boolean;
  /** A split was made, and not moved beyond their range: its old bees fly home. */
  readonly splitMade: boolean;
  /** Since she was let out a living queen cell was seen and left, or drone brood in worker cells. */
  readonly inDoubt: boolean;
  readonly outcome: Outcome | null;
  readonly method: IntroductionMethod;
  readonly timeZone: string;
  readonly nowMs: number;
}

function afterRelease(releasedAtMs: number, p: Progress): Stage {
  const seenOut = p.queen.outByAccident || p.queen.cageEmptyAtMs !== null;
  if (p.nowMs < candyGoneMs(releasedAtMs)) return seenOut ? 'hands-off' : 'candy-open';
  if (p.nowMs < startOfDayAfter(releasedAtMs, handsOffDays.value, p.timeZone)) return 'hands-off';
  return 'check-due';
}

/** Her eggs were seen, or she was once her days outside were over: bees can turn on a queen that they met an hour ago. */
function isAccepted(releasedAtMs: number, { queen, method, timeZone }: Progress): boolean {
  const { leastMs } = earliestLook({ ...queen, releasedAtMs }, method, timeZone);
  return queen.firstEggsAtMs !== null || (queen.lastSeenAtMs ?? releasedAtMs) >= leastMs;
}

export function stageOf(p: Progress): Stage {
  const { queen } = p;
  if (p.outcome) return 'closed';
  if (queen.releasedAtMs !== null && queen.where === 'in-cage') return 'check-due';
  if (queen.where === 'gone' || (queen.where === 'dead' && queen.cageHungAtMs !== null)) return 'failed';
  const { releasedAtMs } = queen;
  if (releasedAtMs !== null && (queen.where === 'seen-loose' || queen.firstEggsAtMs !== null)) {
    if (p.inDoubt) return 'check-due';
    return isAccepted(releasedAtMs, p) ? 'accepted' : afterRelease(releasedAtMs, p);
  }
  if (releasedAtMs !== null && queen.where === 'released') return afterRelease(releasedAtMs, p);
  if (p.startedAtMs === null) return 'planned';
  if (p.twoLateLooks) return queen.where === 'in-cage' ? 'caged' : 'waiting-for-queen';
  if (p.lateLooks > 0) return 'second-look-due';
  const day = dayNumber(p.startedAtMs, p.nowMs, p.timeZone);
  const foragersLeave = p.splitMade && day < foragersLeaveDays.value;
  return foragersLeave && !p.anyCut ? 'foragers-leaving' : 'waiting-to-cut';
}
