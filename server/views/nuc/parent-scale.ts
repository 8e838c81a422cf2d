/** A second witness of the foragers: what the parent colony weighs more since the nuc was moved away from it. */
import type { NucDetail } from '../../contract/nucs.ts';
import { driftWindowMs } from '../../signals/drift/drift-input.ts';
import type { NucSignals, StepKind } from '../../signals/types.ts';
import type { ParentAround } from '../../watch/parent-around.ts';
import { grams, type Say } from '../../words/phrase.ts';

/** After these nothing is known of what the box weighed before. */
const lost: ReadonlySet<StepKind> = new Set(['gone', 'toppled', 'zeroed']);

/**
 * Level of the newest night less that of the last night before the move, g, with every step between them taken out: visits,
 * frames, feed. Null where no night is known on either side, or the box or the scale’s zero was lost between them.
 */
export function gainSince(
  { nightWeights, steps }: Pick<NucSignals, 'nightWeights' | 'steps'>,
  moveMs: number,
): number | null {
  const before = nightWeights.findLast(({ toMs }) => toMs <= moveMs);
  const after = nightWeights.findLast(
    ({ fromMs, toMs }) => fromMs > moveMs && toMs <= moveMs + driftWindowMs,
  );
  if (!before || !after) return null;
  const between = steps.filter(({ atMs }) => atMs >= before.toMs && atMs < after.toMs);
  if (between.some(({ kind }) => lost.has(kind))) return null;
  return after.levelG - before.levelG - between.reduce((sum, { sizeG }) => sum + sizeG, 0);
}

export function parentNotes({ name, moveMs, signals }: ParentAround, say: Say): NucDetail['signals'] {
  const gainG = gainSince(signals, moveMs);
  if (gainG === null) return [];
  const change = `${say(grams(Math.abs(gainG)))} ${gainG < 0 ? 'lighter' : 'heavier'}`;
  return [
    {
      id: 'parent-scale',
      title: 'Parent colony',
      short: change,
      text:
        `At night ${name} is ${change} than before the move, its visits taken out. ` +
        'Foragers that came home weigh in. Nectar and what it ate do too, so it proves nothing.',
      restsOn: ['nights of the parent colony before and after the move'],
      level: 'neutral',
    },
  ];
}
