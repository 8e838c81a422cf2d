/** Asks again until there is an answer. The time is against what hangs: a busy machine makes everything slower. */
export async function until<T>(
  ask: () => T | undefined | Promise<T | undefined>,
  withinMs = 30_000,
): Promise<T> {
  const deadline = performance.now() + withinMs;
  for (;;) {
    const answer = await ask();
    if (answer !== undefined) return answer;
    if (performance.now() > deadline) throw new Error(`nothing came within ${String(withinMs)} ms`);
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
}
