/**
 * The seeded run of the agent oracle (`run.ts` is the largest one): the open gate against colonies of
 * agents that share no code with it.
 */
import { describe, expect, it } from 'vitest';
import { sized } from '../support/size.ts';
import { play } from './history.ts';
import { scene } from './scene.ts';
import { judged, standardErrorsOff, tally, virginShare } from './tally.ts';

const plenty = 300_000;

describe('the open gate against the agent oracle', { timeout: plenty }, () => {
  it('never says go while a larva can be reared, a cell stands or a queen walks free, where no cell is overlooked', () => {
    const t = tally(sized(140, 8000), 20_270_501, false);
    expect(t.unsafe).toEqual([]);
    // Enough histories of each kind came to a go for the zero to mean something.
    for (const kind of [
      'clean',
      'early',
      'late',
      'any-days',
      'swarm-cells',
      'brood-added',
      'queen-not-seen',
    ]) {
      expect(t.byKind[kind]?.go, kind).toBeGreaterThan(sized(2, 100));
    }
    // Four of five are the goal: a late look on day 10 in a nuc of many cells asks for one more.
    expect(t.clean.goOnDay10 / t.clean.histories).toBeGreaterThanOrEqual(0.8);
  });

  it('with overlooked cells it lets a virgin be loose within a week in at most one of twenty, and says so beforehand', () => {
    const t = tally(sized(40, 2000), 30_000_001, true);
    expect(t.unsafe).toEqual([]);
    expect(virginShare(t).bought).toBeLessThanOrEqual(0.05);
    // Three standard errors of the binomial share: with a dozen bins about 1 in 30 runs would break it by chance,
    // but the seed is fixed.
    const bins = judged(t.bins);
    expect(bins.length).toBeGreaterThanOrEqual(sized(1, 5));
    for (const bin of bins) {
      expect(Math.abs(standardErrorsOff(bin)), JSON.stringify(bin)).toBeLessThan(3);
    }
  });

  it('answers a colony found queenless after weeks with go where her virgin is lost, and never where one walks free', () => {
    const hopeless = Array.from({ length: sized(400, 6000) }, (_, i) => 50_000_001 + i).filter(
      (seed) => scene(seed, false).kind === 'hopeless',
    );
    const played = hopeless.map((seed) => {
      const { colony, lossBefore } = scene(seed, false);
      return { queen: colony.queenIn(lossBefore), go: play(seed, false).go !== null };
    });
    const goes = (queen: boolean): number =>
      played.filter((one) => one.queen === queen && one.go).length /
      played.filter((one) => one.queen === queen).length;
    expect(goes(true)).toBe(0);
    // About half of them within the days of a history; the small run has twenty of them.
    expect(goes(false)).toBeGreaterThan(sized(0.3, 0.45));
  });

  it('would notice a gate that opens on day 7', () => {
    const reckless = Array.from({ length: sized(120, 400) }, (_, i) => play(i, false, () => 'go'));
    expect(reckless.some((told) => told.go?.rearableLarva ?? false)).toBe(true);
    expect(reckless.some((told) => told.go?.cellToBeKnown ?? false)).toBe(true);
    expect(reckless.some((told) => told.go?.virginWithinAWeek ?? false)).toBe(true);
  });
});
