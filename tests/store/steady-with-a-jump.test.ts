/** A probe that hardly moves and then jumps once: the shortest codes, and one that is written as it is. */
import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decodeDay, encodeDay } from '../../server/store/readings/day-codec.ts';

const dayStartMs = 20_781 * 86_400_000;
const minuteMs = 60_000;

function roundTrip(micro: readonly number[]): number[] {
  const length = micro.length;
  const readings = {
    length,
    atMs: Float64Array.from(micro, (_, i) => dayStartMs + i * 5 * minuteMs),
    micro: Float64Array.from(micro),
    flag: new Uint8Array(length),
    receivedS: new Float64Array(length),
  };
  return [...decodeDay(encodeDay(readings, dayStartMs), dayStartMs).micro];
}

describe('a steady day with one jump', () => {
  it('comes back as it was: a probe in steps of a sixteenth of a degree, lifted out once', () => {
    const day = [
      32.25, 32.25, 32.25, 32.25, 32.3125, 32.375, 32.375, 32.375, 32.4375, 32.4375, 32.4375, 32.5, 32.5625,
      32.625,
    ];
    const steady = [...day, ...Array.from({ length: 12 }, () => 32.6875), 28.0625].map((c) => c * 1e6);
    expect(roundTrip(steady)).toEqual(steady);
  });

  it('comes back as it was wherever the jump lies and however far it goes', () => {
    const jump = fc.record({
      at: fc.nat(99),
      steps: fc.oneof(fc.integer({ min: -120, max: 120 }), fc.integer({ min: -100_000, max: 100_000 })),
      step: fc.constantFrom(1, 62_500, 1000),
    });
    const walk = fc.array(fc.constantFrom(...Array.from({ length: 30 }, () => 0), 1, -1), {
      minLength: 100,
      maxLength: 100,
    });
    fc.assert(
      fc.property(walk, fc.array(jump, { minLength: 1, maxLength: 3 }), (moves, jumps) => {
        const { step } = jumps[0]!;
        let level = 500 * step;
        const values = moves.map((move, i) => {
          level += move * step;
          return level + jumps.filter(({ at }) => at === i).reduce((sum, { steps }) => sum + steps * step, 0);
        });
        expect(roundTrip(values)).toEqual(values);
      }),
      { numRuns: 500 },
    );
  });
});
