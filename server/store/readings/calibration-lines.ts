/** The calibration that holds at an instant, asked for in the order of time. */
import type { Line } from './calibration.ts';
import type { LineSpans } from './raw-span.ts';

export class CalibrationLines {
  readonly #lines: LineSpans;
  #line: Line;
  #next = 1;

  constructor(lines: LineSpans) {
    const first = lines[0];
    if (first?.fromMs !== -Infinity) throw new RangeError('calibration spans begin at −∞');
    this.#lines = lines;
    this.#line = first.line;
  }

  at(atMs: number): Line {
    for (let next = this.#lines[this.#next]; next && next.fromMs <= atMs;) {
      this.#line = next.line;
      this.#next += 1;
      next = this.#lines[this.#next];
    }
    return this.#line;
  }
}
