/** The middle of a list without sorting all of it: what is before and after the middle stays in any order. */

/** Median of a list of finite numbers, whose order is lost; NaN of an empty one. */
export function medianInPlace(values: Float64Array): number {
  const n = values.length;
  if (n === 0) return NaN;
  const half = n >>> 1;
  const upper = selectInPlace(values, half);
  if (n % 2 === 1) return upper;
  // Everything before the middle is no larger than it; the largest of that is the other middle value.
  let lower = values[0] as number;
  for (let i = 1; i < half; i++) if ((values[i] as number) > lower) lower = values[i] as number;
  return (lower + upper) / 2;
}

/** The value that would stand at `k` were the list sorted (Hoare's selection, middle of three as pivot); its order is lost. */
export function selectInPlace(values: Float64Array, k: number): number {
  let low = 0;
  let high = values.length - 1;
  while (low < high) {
    const pivot = middleOf(
      values[low] as number,
      values[(low + high) >>> 1] as number,
      values[high] as number,
    );
    let i = low;
    let j = high;
    while (i <= j) {
      while ((values[i] as number) < pivot) i++;
      while ((values[j] as number) > pivot) j--;
      if (i > j) break;
      const held = values[i] as number;
      values[i] = values[j] as number;
      values[j] = held;
      i++;
      j--;
    }
    if (k <= j) high = j;
    else if (k >= i) low = i;
    else break;
  }
  return values[k] as number;
}

const middleOf = (a: number, b: number, c: number): number =>
  Math.max(Math.min(a, b), Math.min(Math.max(a, b), c));
