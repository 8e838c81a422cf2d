/** To so many decimals: what a chart can show, and no more bytes than that. */
export function rounded(value: number, digits: number): number {
  const scale = 10 ** digits;
  return Math.round(value * scale) / scale;
}
