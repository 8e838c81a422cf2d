/** Where an introduction stands, in the trade's words. */
import { foragersLeaveDays, handsOffDays, lowEnd } from '../biology/figures.ts';
import { addDays, dayNumber, startOfDayAfter } from './calendar.ts';
import type { FactPayload, IntroductionMethod } from './facts.ts';
import type { QueenState } from './queen.ts';

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

/** Name and one line of explanation for each stage. */
interface StageWords {
  readonly name: string;
  readonly line: string;
}

const words: Readonly<Record<Stage, StageWords>> = {
  planned: { name: 'planned', line: 'The split has not been made yet.' },
  'foragers-leaving': {
    name: 'foragers leaving',
    line: 'The old bees fly home to the parent’s stand and leave nurse bees and brood.',
  },
  'waiting-to-cut': {
    name: 'waiting to cut cells',
    line: 'Cells are cut once no larva is young enough for another.',
  },
  'second-look-due': {
    name: 'second look due',
    line: 'Cells were cut; a second look on every frame finds what the first one missed.',
  },
  'waiting-for-queen': {
    name: 'ready, no queen yet',
    line: 'No cell is left and nothing to raise one from; the nuc waits for its queen.',
  },
  caged: { name: 'queen caged', line: 'The queen hangs in her cage with the candy end closed.' },
  'candy-open': { name: 'candy open', line: 'The bees are eating through the candy to the queen.' },
  'hands-off': { name: 'hands off', line: 'The nuc stays shut: a look now can get the queen killed.' },
  'check-due': { name: 'check due', line: 'Look for the empty cage, the queen and her eggs.' },
  accepted: { name: 'accepted', line: 'The queen was seen, or her eggs were.' },
  failed: { name: 'failed', line: 'The queen is dead or gone.' },
  closed: { name: 'closed', line: 'An outcome is logged; nothing more is planned.' },
};

/** Where the queen sits under mesh that is pressed over emerging brood. */
const underMesh: Readonly<Partial<Record<Stage, StageWords>>> = {
  caged: { name: 'queen under the mesh', line: 'The queen sits under the mesh, among emerging bees.' },
  'candy-open': { name: 'mesh lifted', line: 'The queen walks free: a look now can get her killed.' },
};

export const stageWords = (stage: Stage, method: IntroductionMethod): StageWords =>
  (method === 'push-in-cage' ? underMesh[stage] : undefined) ?? words[stage];

type Outcome = Extract<FactPayload, { kind: 'outcome' }>['outcome'];

export interface Progress {
  readonly startedAtMs: number | null;
  readonly queen: QueenState;
  readonly lateLooks: number;
  readonly twoLateLooks: boolean;
  readonly anyCut: boolean;
  /** A living queen cell was seen since she was let out, and left. */
  readonly cellStands: boolean;
  readonly outcome: Outcome | null;
  readonly timeZone: string;
  readonly nowMs: number;
}

function afterRelease(releasedAtMs: number, p: Progress): Stage {
  const leastDays = lowEnd(handsOffDays);
  if (p.nowMs < addDays(releasedAtMs, leastDays, p.timeZone)) {
    return p.queen.outByAccident ? 'hands-off' : 'candy-open';
  }
  if (p.nowMs < startOfDayAfter(releasedAtMs, handsOffDays.value, p.timeZone)) return 'hands-off';
  return 'check-due';
}

export function stageOf(p: Progress): Stage {
  const { queen } = p;
  if (p.outcome) return 'closed';
  if (queen.where === 'gone' || (queen.where === 'dead' && queen.cageHungAtMs !== null)) return 'failed';
  if (queen.releasedAtMs !== null && (queen.where === 'seen-loose' || queen.firstEggsAtMs !== null)) {
    return p.cellStands ? 'check-due' : 'accepted';
  }
  if (queen.releasedAtMs !== null && queen.where === 'released') return afterRelease(queen.releasedAtMs, p);
  if (p.startedAtMs === null) return 'planned';
  if (p.twoLateLooks) return queen.where === 'in-cage' ? 'caged' : 'waiting-for-queen';
  if (p.lateLooks > 0) return 'second-look-due';
  const day = dayNumber(p.startedAtMs, p.nowMs, p.timeZone);
  return day < foragersLeaveDays.value && !p.anyCut ? 'foragers-leaving' : 'waiting-to-cut';
}
