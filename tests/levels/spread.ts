/**
 * Seeds beside each other, made unlike: a congruential generator that starts from them goes up by the same step in each draw,
 * so that two hundred of its worlds may all have six frames of bees.
 *
 * The finalizer of MurmurHash3 (Appleby 2011, public domain), which turns over half of all bits for each bit that changes.
 */
function mixed(value: number): number {
  let h = value >>> 0;
  h = Math.imul(h ^ (h >>> 16), 0x85ebca6b);
  h = Math.imul(h ^ (h >>> 13), 0xc2b2ae35);
  return (h ^ (h >>> 16)) >>> 0;
}

/** A whole number below 2³² for a seed; `stream` keeps what is drawn for different ends apart. */
export const spread = (seed: number, stream: number): number => mixed(seed ^ mixed(stream + 1));
