/** A chart rounds thousands of values, and `**` takes longer than the rest of it. */
const scales = [1, 10, 100, 1000, 10_000];

/** To so many decimals: what a chart can show, and no more bytes than that. */
export function rounded(value: number, digits: number): number {
  const scale = scales[digits] ?? 10 ** digits;
  return Math.round(value * scale) / scale;
}
