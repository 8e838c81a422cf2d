/** Runs what can wait once the page has nothing to draw, within a second at the latest. Safari has no word for idle. */
export function whenIdle(run: () => void): void {
  if ('requestIdleCallback' in window) requestIdleCallback(run, { timeout: 1_000 });
  else setTimeout(run, 500);
}
