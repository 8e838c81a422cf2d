/** A token bucket: how long to make a sender wait so that it keeps to its rate. Slowing down loses nothing. */
export interface Pace {
  /** Milliseconds to wait after one more message. */
  next(nowMs: number): number;
}

export function pace(perSecond: number, burst: number): Pace {
  let tokens = burst;
  let lastMs: number | undefined;
  return {
    next(nowMs) {
      const elapsedMs = lastMs === undefined ? 0 : Math.max(0, nowMs - lastMs);
      tokens = Math.min(burst, tokens + (elapsedMs * perSecond) / 1000) - 1;
      lastMs = nowMs;
      return tokens >= 0 ? 0 : (-tokens * 1000) / perSecond;
    },
  };
}
