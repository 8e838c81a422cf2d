/** Waits until something is true; fails with what it was waiting for. The time is against what hangs. */
export async function until(holds: () => boolean | Promise<boolean>, timeoutMs = 30_000): Promise<void> {
  const end = performance.now() + timeoutMs;
  while (!(await holds())) {
    if (performance.now() > end) throw new Error(`this never came true: ${holds.toString()}`);
    await new Promise((resolve) => setTimeout(resolve, 10));
  }
}
