/**
 * Whether a password is among the first that a guesser would try (zxcvbn). Asked in a thread that ends afterwards: the
 * lists of common passwords take some 7 MB and half a second, and a password is set once a season.
 */
import { threadBeside } from '../store/own-thread.ts';

/** At least 10^8 guesses ("safely unguessable" in zxcvbn's own scale of 0 to 4). */
const leastScore = 3;

export interface Judged {
  readonly password: string;
  /** Words that a guesser knows too, such as the name. */
  readonly known: readonly string[];
}

export const tooEasy =
  'it is among the first that a guesser tries; take three or four words that do not belong together';

/** Why the password won't do, in a few words; null where it will. */
export async function passwordProblem(password: string, known: readonly string[]): Promise<string | null> {
  const judged: Judged = { password, known: [...known, 'welcomb'] };
  const thread = threadBeside(import.meta.url, 'password-strength-thread', {
    workerData: judged,
    resourceLimits: { maxOldGenerationSizeMb: 128 },
  });
  try {
    const score = await new Promise<number>((resolve, reject) => {
      thread.once('message', resolve).once('error', reject);
      thread.once('exit', (code) => {
        reject(new Error(`judging a password ended with ${String(code)}`));
      });
    });
    return score < leastScore ? tooEasy : null;
  } finally {
    await thread.terminate();
  }
}
