/** One row of the bench's table, and how it is printed. */
export interface BenchRow {
  readonly what: string;
  readonly measured: string;
  /** The same thing done the plain way in the same run. */
  readonly baseline: string;
  readonly goal: string;
  /** A row whose goal means nothing at a small size is not judged there. */
  readonly reached: boolean | 'full size only';
}

export function printRows(rows: readonly BenchRow[]): void {
  console.table(
    rows.map(({ what, measured, baseline, goal, reached }) => ({
      what,
      measured,
      baseline,
      goal,
      reached: reached === 'full size only' ? reached : reached ? 'yes' : 'NO',
    })),
  );
}

export function median(values: readonly number[]): number {
  return values.toSorted((a, b) => a - b)[values.length >> 1] ?? NaN;
}

/** Milliseconds of each of `times` runs. */
export function timed(times: number, work: (run: number) => void): number[] {
  return Array.from({ length: times }, (_, run) => {
    const started = performance.now();
    work(run);
    return performance.now() - started;
  });
}
