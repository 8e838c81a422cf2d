/** Foragers that bad weather holds in beyond the ten days of the scale are followed by the weather until they have gone. */
import { describe, expect, it } from 'vitest';
import { analyseNuc, newAnalysisCache, type AnalysisInput } from '../../server/signals/analyse.ts';
import { dayMs, hourMs, made, outsideC, place, ripple } from './made.ts';

const split = Date.UTC(2025, 3, 10, 8);
/** Five degrees until a day, eighteen from then on; its foragers leave within two days of that. */
function heldInUntil(day: number): AnalysisInput {
  const since = (h: number): number => Math.max(0, h - 24 - day * 24);
  const air = (h: number): number => (h < day * 24 ? outsideC(h + 10, 5, 3) : outsideC(h + 10, 18, 6));
  const box = (h: number): number => 12_000 - 3 * h - 300 * (1 - Math.exp(-since(h) / 20)) + ripple(h, 4);
  const endMs = split + 40 * dayMs;
  const series = {
    outsideC: made(split, endMs, (h) => air(h) + ripple(h, 0.1), 10),
    weightG: made(split - dayMs, endMs, box, 10),
  };
  return { series, place, events: [], movedAtMs: split, framesOfBees: 5, broodRegime: () => 'unknown' };
}

describe('foragers that bad weather holds in', () => {
  it('for twelve days are in until then, and gone after some days of flight', () => {
    const input = heldInUntil(12);
    const on = (day: number) => analyseNuc(input, split + day * dayMs).drift;
    expect(on(11).state).toBe('no-flying-weather');
    expect(on(12.2).state).toBe('leaving');
    expect(on(16)).toMatchObject({ state: 'gone', flyingDays: 4 });
    expect(on(16).massG.ok).toBe(false);
    expect(on(35).state).toBe('gone');
  });

  it('are told the same from hour to hour as at once', () => {
    const input = heldInUntil(12);
    const cache = newAnalysisCache();
    for (let day = 11; day < 14; day += 0.25) analyseNuc(input, split + day * dayMs, cache);
    const at = split + 14 * dayMs + 2 * hourMs;
    expect(analyseNuc(input, at, cache).drift).toEqual(analyseNuc(input, at).drift);
  });
});
