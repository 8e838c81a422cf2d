/** Signs of brood disease: nothing is carried into the nuc or out of it until they are ruled out, nor a queen hung. */
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import { blocked, since, type Condition } from '../condition.ts';
import { notClosed, present } from '../common-conditions.ts';
import { soonFor } from '../situation.ts';
import { atHome } from '../words.ts';

/** Of acts that carry a queen, brood, bees or combs into this nuc or out of it. Common practice; local law decides. */
export const carriesNothing = ({ signs }: IntroductionState): Condition | null =>
  signs.diseaseAtMs === null
    ? null
    : since(
        signs.diseaseAtMs,
        blocked(
          'Signs of brood disease',
          'Signs of brood disease are logged, and not that they are ruled out. Until then no queen, brood, bees or combs come in or go out.',
          { first: 'call-inspector' },
        ),
      );

export const callInspector: ActRow = {
  kind: 'call-inspector',
  settles: 'whether it is brood disease',
  // By itself the alert asks for it; here it stands where another act waits for it.
  draft: () => null,
  asked: soonFor,
  conditions: ({ state }) => present([notClosed(state)]),
  words: () =>
    atHome(
      'Call the bee inspector',
      'brood-disease',
      'Call the bee inspector, and do what local rules say. Log “ruled out” once the inspector or a laboratory says so.',
    ),
};
