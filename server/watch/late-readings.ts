/** Nucs whose readings came late, and the evaluation over the past that is under way: one nuc at a time, in small steps. */
import { minuteMs } from '../durations.ts';
import type { LookedBack } from './catch-up.ts';

/** So long no late reading may have come before a nuc's past is evaluated. */
const settledMs = 2_000;
/** Setting: a gateway sends what it kept within minutes, and so long its parts are put together: then what there is is looked at. */
const longestWaitMs = 5 * minuteMs;

export interface LateReadingsDeps {
  /** Begins the evaluation of a nuc's past from its earliest late reading on. */
  readonly begin: (nucId: string, fromMs: number, nowMs: number) => Generator<undefined, LookedBack>;
  /** Its turn comes first: a finding of now waits for the past to say since when it lasts. */
  readonly isPressing: (nucId: string) => boolean;
  readonly done: (nucId: string, result: LookedBack, nowMs: number) => void;
}

interface Span {
  /** The earliest late reading. */
  readonly fromMs: number;
  /** When the first of them came. */
  readonly sinceMs: number;
}

interface Waiting extends Span {
  /** When the last of them came. */
  readonly notedAtMs: number;
}

export class LateReadings {
  readonly #deps: LateReadingsDeps;
  readonly #waiting = new Map<string, Waiting>();
  #running: (Span & { readonly nucId: string; readonly steps: Generator<undefined, LookedBack> }) | null =
    null;

  constructor(deps: LateReadingsDeps) {
    this.#deps = deps;
  }

  get pending(): boolean {
    return this.#waiting.size > 0 || this.#running !== null;
  }

  concerns(nucId: string): boolean {
    return this.#waiting.has(nucId) || this.#running?.nucId === nucId;
  }

  /** An evaluation that is under way has not seen these readings: it begins again, or another follows it. */
  note(nucId: string, fromMs: number, nowMs: number): void {
    const before = this.#waiting.get(nucId) ?? this.#stop(nucId, nowMs) ?? { fromMs, sinceMs: nowMs };
    this.#waiting.set(nucId, {
      fromMs: Math.min(fromMs, before.fromMs),
      sinceMs: before.sinceMs,
      notedAtMs: nowMs,
    });
  }

  /** Stops what is under way about this nuc; not for ever, or a slow board would never end where readings keep coming late. */
  #stop(nucId: string, nowMs: number): Span | null {
    const running = this.#running;
    if (running?.nucId !== nucId || nowMs - running.sinceMs >= longestWaitMs) return null;
    this.#running = null;
    return running;
  }

  /** Its sensors are others now: the whole past is evaluated, and what is under way counts for nothing. */
  startOver(nucId: string, nowMs: number): void {
    if (this.#running?.nucId === nucId) this.#running = null;
    this.note(nucId, -Infinity, nowMs);
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

  /** The next nuc whose late readings have stopped coming, or that waited for long enough; a pressing one first. */
  #begin(nowMs: number) {
    const settled = [...this.#waiting].filter(
      ([, { notedAtMs, sinceMs }]) => nowMs - notedAtMs >= settledMs || nowMs - sinceMs >= longestWaitMs,
    );
    const next = settled.find(([id]) => this.#deps.isPressing(id)) ?? settled[0];
    if (!next) return null;
    const [nucId, { fromMs, sinceMs }] = next;
    this.#waiting.delete(nucId);
    return { nucId, fromMs, sinceMs, steps: this.#deps.begin(nucId, fromMs, nowMs) };
  }
}
