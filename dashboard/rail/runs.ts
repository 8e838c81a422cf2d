/** Runs without a gap. */
export function runs<T extends { readonly day: number }>(points: readonly T[], gapDays: number): T[][] {
  const found: T[][] = [];
  let before: T | undefined;
  for (const point of points) {
    if (before && point.day - before.day <= gapDays) found.at(-1)?.push(point);
    else found.push([point]);
    before = point;
  }
  return found;
}
