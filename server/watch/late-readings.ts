/** Nucs whose readings came late, and the evaluation over the past that is under way: one nuc at a time, in small steps. */
import type { LookedBack } from './catch-up.ts';

/** So long no late reading may have come before a nuc's past is evaluated. */
const settledMs = 2_000;

export interface LateReadingsDeps {
  /** Begins the evaluation of a nuc's past from its earliest late reading on. */
  readonly begin: (nucId: string, fromMs: number, nowMs: number) => Generator<undefined, LookedBack>;
  /** Its turn comes first: a finding of now waits for the past to say since when it lasts. */
  readonly isPressing: (nucId: string) => boolean;
  readonly done: (nucId: string, result: LookedBack, nowMs: number) => void;
}

export class LateReadings {
  readonly #deps: LateReadingsDeps;
  readonly #waiting = new Map<string, { readonly fromMs: number; readonly notedAtMs: number }>();
  #running: {
    readonly nucId: string;
    readonly fromMs: number;
    readonly steps: Generator<undefined, LookedBack>;
  } | null = null;

  constructor(deps: LateReadingsDeps) {
    this.#deps = deps;
  }

  get pending(): boolean {
    return this.#waiting.size > 0 || this.#running !== null;
  }

  concerns(nucId: string): boolean {
    return this.#waiting.has(nucId) || this.#running?.nucId === nucId;
  }

  note(nucId: string, fromMs: number, nowMs: number): void {
    let earliestMs = Math.min(fromMs, this.#waiting.get(nucId)?.fromMs ?? Infinity);
    if (this.#running?.nucId === nucId) {
      // It has not seen these readings: it begins again, with them.
      earliestMs = Math.min(earliestMs, this.#running.fromMs);
      this.#running = null;
    }
    this.#waiting.set(nucId, { fromMs: earliestMs, notedAtMs: nowMs });
  }

  /** The past of nucs that were taken down is told to nobody. */
  keepOnly(standing: ReadonlySet<string>): void {
    for (const nucId of this.#waiting.keys()) if (!standing.has(nucId)) this.#waiting.delete(nucId);
    if (this.#running && !standing.has(this.#running.nucId)) this.#running = null;
  }

  /** Goes on for as long as the budget lasts; at least one step, or it would never be done. */
  work(nowMs: number, withinBudget: () => boolean): void {
    do {
      this.#running ??= this.#begin(nowMs);
      if (!this.#running) return;
      const { nucId, steps } = this.#running;
      const step = steps.next();
      if (step.done) {
        this.#running = null;
        this.#deps.done(nucId, step.value, nowMs);
      }
    } while (withinBudget());
  }

  /** The next nuc whose late readings have stopped coming, a pressing one first. */
  #begin(nowMs: number) {
    const settled = [...this.#waiting].filter(([, { notedAtMs }]) => nowMs - notedAtMs >= settledMs);
    const next = settled.find(([id]) => this.#deps.isPressing(id)) ?? settled[0];
    if (!next) return null;
    const [nucId, { fromMs }] = next;
    this.#waiting.delete(nucId);
    return { nucId, fromMs, steps: this.#deps.begin(nucId, fromMs, nowMs) };
  }
}
