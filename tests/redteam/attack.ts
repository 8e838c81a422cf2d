/** One attack on the built server: what is tried, what should come of it, and what did. */
export interface Outcome {
  /** The server withstood it. */
  readonly held: boolean;
  /** What was seen, with figures, in a few words. */
  readonly seen: string;
}

export interface Attack {
  /** What is tried, in a few words. */
  readonly name: string;
  readonly expected: string;
  /**
   * Starts the servers that it needs, on 127.0.0.1 and in folders of its own, and stops them. `small`: as much as fits
   * beside the other tests (a few seconds); `full`: at the size at which the attack was first seen to work.
   */
  run(size: 'small' | 'full'): Promise<Outcome>;
}

/** An attack that throws has got through: whatever it asked was not answered as it should be. */
export async function attempt(attack: Attack, size: 'small' | 'full'): Promise<Outcome> {
  try {
    return await attack.run(size);
  } catch (error) {
    return { held: false, seen: error instanceof Error ? error.message : String(error) };
  }
}
