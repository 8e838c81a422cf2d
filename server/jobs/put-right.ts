/** Tells when the clock was put right: it moved on by more or less than the time that passed. */

/** Setting: so often the clock is looked at. */
const lookMs = 5_000;
/** Setting: a clock that is kept right by small steps is no news. */
const leastMs = 30_000;

/** Calls `then` within seconds each time the clock jumps. Returns how to end that. */
export function whenPutRight(clock: () => number, then: () => Promise<void>): () => void {
  const ahead = (): number => clock() - performance.now();
  let before = ahead();
  const timer = setInterval(() => {
    const now = ahead();
    if (Math.abs(now - before) >= leastMs) void then();
    before = now;
  }, lookMs);
  return () => {
    clearInterval(timer);
  };
}
