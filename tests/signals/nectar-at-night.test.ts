import { describe, expect, it } from 'vitest';
import { analyseNuc } from '../../server/signals/analyse.ts';
import { dayMs, hourMs, made, midnight, outsideC, place, ripple } from './made.ts';

const movedAtMs = midnight + 11 * hourMs;
const hourOf = (h: number): number => (11 + h) % 24;

/** Three days after a move: its foragers leave, and so much nectar comes in by day, of which three tenths dry by night. */
function scaleTemperature(nectarG: number) {
  const air = (h: number) => outsideC(hourOf(h), 17, 5);
  const day = (h: number) => Math.min(1, Math.max(0, (hourOf(h) - 9) / 9));
  const night = (h: number) => Math.min(1, ((hourOf(h) + 4) % 24) / 10);
  const nectar = (h: number) => {
    const full = Math.floor((11 + h) / 24);
    const dried = hourOf(h) >= 20 ? full + night(h) : full - 1 + Math.min(1, (hourOf(h) + 4) / 10);
    return nectarG * (full + day(h)) - 0.3 * nectarG * Math.max(0, dried);
  };
  const weightG = made(movedAtMs, movedAtMs + 3 * dayMs, (h) => {
    const left = 200 * (1 - Math.exp(-h / 20));
    return 12_000 - 3 * h - left + nectar(h) + ripple(h, 8);
  });
  return analyseNuc(
    {
      series: { weightG, outsideC: made(movedAtMs, movedAtMs + 3 * dayMs, air) },
      place,
      events: [{ atMs: movedAtMs, kind: 'moved' }],
      movedAtMs,
      broodRegime: () => 'open-brood',
      framesOfBees: 4,
    },
    movedAtMs + 3 * dayMs,
  ).scaleTemperature;
}

describe('nectar that dries by night', () => {
  // Two kilograms on a day of a good flow: common practice.
  it('is not laid to the scale: what falls as the air cools is water', () => {
    expect(scaleTemperature(2000)).toMatchObject({ ok: false });
  });
  it('a scale without it is judged', () => {
    const found = scaleTemperature(0);
    expect(found.ok && Math.abs(found.value) < 5).toBe(true);
  });
});
