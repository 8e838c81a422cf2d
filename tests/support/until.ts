/** Asks again until there is an answer; fails with the last state when the time is up. */
export async function until<T>(
  ask: () => T | undefined | Promise<T | undefined>,
  withinMs: number,
): Promise<T> {
  const deadline = performance.now() + withinMs;
  for (;;) {
    const answer = await ask();
    if (answer !== undefined) return answer;
    if (performance.now() > deadline) throw new Error(`nothing came within ${String(withinMs)} ms`);
    await new Promise((resolve) => setTimeout(resolve, 25));
  }
}
