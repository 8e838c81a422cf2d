/** What the happenings do to box and scale, minute by minute. */
import type { Happening } from './happenings.ts';
import { minuteMs } from './place.ts';
import { rngFor } from './random.ts';

export interface Overlay {
  /** Factor on the conductance of the walls: 1 shut, more with the lid off or the box on its side. */
  readonly leak: Float32Array;
  /** Share of the load that rests on the scale. */
  readonly carried: Float32Array;
  /** Lid, frames and hands on or off the scale during a visit, g. */
  readonly handlingG: Float32Array;
  /** Shift of the scale's zero from this minute on, g. */
  readonly zeroG: Float32Array;
  /** 1 while the probes are pulled out into the open air. */
  readonly probesOut: Float32Array;
  /** 1 from the minute on in which the box, and the probes in it, are gone. */
  readonly gone: Uint8Array;
}

export function overlayOf(
  seed: number,
  happenings: readonly Happening[],
  startMs: number,
  minutes: number,
): Overlay {
  const overlay: Overlay = {
    leak: new Float32Array(minutes).fill(1),
    carried: new Float32Array(minutes).fill(1),
    handlingG: new Float32Array(minutes),
    zeroG: new Float32Array(minutes),
    probesOut: new Float32Array(minutes),
    gone: new Uint8Array(minutes),
  };
  for (const [index, happening] of happenings.entries()) {
    const from = Math.floor((happening.atMs - startMs) / minuteMs);
    if (from < 0 || from >= minutes) continue;
    apply(overlay, rngFor(seed, `overlay ${String(index)}`), happening, from, startMs);
  }
  return overlay;
}

function apply(
  o: Overlay,
  rng: ReturnType<typeof rngFor>,
  h: Happening,
  from: number,
  startMs: number,
): void {
  switch (h.kind) {
    case 'visit': {
      const lidG = rng.between(900, 1600);
      for (let i = from; i < from + h.minutes; i++) {
        o.leak[i] = 6;
        // A frame or two in the hands, a hive tool and an elbow on the box.
        o.handlingG[i] = -lidG - rng.whole(0, 2) * rng.between(900, 1800) + 200 * rng.normal();
        o.probesOut[i] = i < from + h.minutes - 1 ? rng.between(0.3, 0.8) : 0.2;
      }
      return;
    }
    case 'lifted': {
      o.carried.fill(0, from, from + h.minutes);
      for (let i = from + h.minutes; i < o.zeroG.length; i++) o.zeroG[i] = (o.zeroG[i] ?? 0) + h.zeroG;
      return;
    }
    case 'toppled': {
      const until = Math.floor((h.untilMs - startMs) / minuteMs);
      o.carried.fill(rng.between(0, 0.3), from, until);
      o.leak.fill(rng.between(4, 7), from, until);
      for (let i = until; i < o.zeroG.length; i++) o.zeroG[i] = (o.zeroG[i] ?? 0) + 30;
      return;
    }
    case 'stolen':
      o.carried.fill(0, from);
      o.gone.fill(1, from);
      return;
    case 'load-changed':
    case 'absconded':
    case 'robbed':
    case 'drifted-in':
    case 'queen-laying':
    case 'laying-stopped':
      return;
  }
}
