/** What is said beside a choice of a nuc that waits for its queen. Pure. */
import type { Waiting } from '../../server/contract/waiting.ts';

type Choice = Waiting['choices'][number];

/** The first that fits; what does not fit is not in time for her, where one is to come. */
export function fitWords(choice: Choice, { choices, comesOn }: Pick<Waiting, 'choices' | 'comesOn'>): string {
  if (choice === choices.find(({ fits }) => fits)) return ' (first choice)';
  return choice.fits || comesOn === null ? '' : ' (not in time)';
}
