import type { Posted } from '../api/facts.ts';
import type { Unsent } from './unsent.ts';

/** What becomes of each entry, given the server's answer. Pure. */
export function settle(
  sent: readonly Unsent[],
  answers: readonly Posted[],
): { readonly stored: readonly string[]; readonly refused: readonly Unsent[] } {
  const stored: string[] = [];
  const refused: Unsent[] = [];
  for (const one of sent) {
    const answer = answers.find((item) => item.id === one.entry.id);
    if (answer?.result === 'stored' || answer?.result === 'already-there') stored.push(one.entry.id);
    else if (answer) refused.push({ ...one, problems: answer.problems });
  }
  return { stored, refused };
}
