/** What the rules about a box that was lifted, knocked over or taken have in common. */
import type { WeightStep } from '../../../signals/types.ts';
import { isPutBack } from '../../../signals/weight/box-away.ts';
import { holds } from '../../engine/conditions.ts';
import type { NucInput } from '../../engine/inputs.ts';
import { unexplainedStep } from '../introduction-stage.ts';
import { grams, type Phrase } from '../../../words/phrase.ts';
import { decide, noData, nothingFound } from '../../engine/rule.ts';
import type { Evaluation } from '../../engine/types.ts';

interface Words {
  readonly todo: Phrase;
  readonly seen: Phrase;
  readonly why: Phrase;
  readonly howSure: Phrase;
}

/** A step of one kind that no visit explains; with `untilBack`, only while the box is not put back. */
export function judgeBoxStep(
  { signals, nowMs }: NucInput,
  kind: WeightStep['kind'],
  lookBackH: number,
  untilBack: boolean,
  words: (step: WeightStep) => Words,
): Evaluation {
  if (!signals) return noData('no scale stands under this nuc');
  const step = unexplainedStep(signals, [kind], nowMs, lookBackH);
  const name = `A step of weight as when a box is ${kind}`;
  if (!step) return nothingFound(holds(name, false, 'none', 'any'));
  if (untilBack && isPutBack(step, signals.steps))
    return nothingFound(holds(name, false, 'put back since', 'any'));
  return decide({
    conditions: [holds(name, true, 'yes', 'any')],
    clear: () => true,
    message: () => ({ ...words(step), facts: [{ name: 'Change of weight', ...grams(step.sizeG) }] }),
    evidence: { place: 'scale', fromMs: step.atMs - 3 * 3_600_000, toMs: nowMs },
  });
}
