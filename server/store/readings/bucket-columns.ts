/** Buckets in columns that grow: somebody waits while a season of hours is drawn, so none becomes an object. */

export interface Buckets {
  /** Start of each bucket, UTC. Buckets without a reading are absent. */
  readonly atMs: Float64Array;
  readonly min: Float64Array;
  readonly max: Float64Array;
  readonly mean: Float64Array;
  readonly last: Float64Array;
  readonly count: Uint32Array;
}

const firstRoom = 64;

export class BucketColumns {
  #length = 0;
  #atMs = new Float64Array(firstRoom);
  #min = new Float64Array(firstRoom);
  #max = new Float64Array(firstRoom);
  #mean = new Float64Array(firstRoom);
  #last = new Float64Array(firstRoom);
  #count = new Uint32Array(firstRoom);

  push(atMs: number, count: number, min: number, max: number, mean: number, last: number): void {
    if (this.#length === this.#atMs.length) this.#grow(2 * this.#length);
    const at = this.#length;
    this.#atMs[at] = atMs;
    this.#count[at] = count;
    this.#min[at] = min;
    this.#max[at] = max;
    this.#mean[at] = mean;
    this.#last[at] = last;
    this.#length += 1;
  }

  finish(): Buckets {
    const length = this.#length;
    return {
      atMs: this.#atMs.subarray(0, length),
      min: this.#min.subarray(0, length),
      max: this.#max.subarray(0, length),
      mean: this.#mean.subarray(0, length),
      last: this.#last.subarray(0, length),
      count: this.#count.subarray(0, length),
    };
  }

  #grow(room: number): void {
    const wider = (from: Float64Array): Float64Array<ArrayBuffer> => {
      const to = new Float64Array(room);
      to.set(from);
      return to;
    };
    const count = new Uint32Array(room);
    count.set(this.#count);
    this.#count = count;
    this.#atMs = wider(this.#atMs);
    this.#min = wider(this.#min);
    this.#max = wider(this.#max);
    this.#mean = wider(this.#mean);
    this.#last = wider(this.#last);
  }
}
