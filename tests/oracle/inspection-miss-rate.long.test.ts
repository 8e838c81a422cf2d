/**
 * Keepers of the agent oracle, each with an eye of their own: what the farm learns from earlier nucs comes near it, and
 * the chance that the gate then states for the next nuc comes true.
 */
import { expect, it } from 'vitest';
import { farmsMissRate, looksEvidence } from '../../server/introduction/miss-rate.ts';
import type { MissRate } from '../../server/introduction/log/setup.ts';
import type { MissEvidence } from '../../server/introduction/cells/standing-cells.ts';
import { foldIntroduction } from '../../server/introduction/state.ts';
import { dice } from './dice.ts';
import { play, type Stated } from './history.ts';
import { begin, scene } from './scene.ts';
import { count, empty, standardErrorsOff } from './tally.ts';

const keepers = 150;
const earlierNucs = 8;
const nextNucs = 8;
/** The mean of the prior from which the oracle draws its keepers, and the server starts. */
const priorMean = 1 / 11;

/** A nuc that was cut on day 7 and looked through on day 10. */
function earlier(seed: number, share: number): MissEvidence | null {
  const s = scene(seed, share);
  if (['queenless-with-cells', 'hopeless', 'own-queen', 'brood-added'].includes(s.kind)) return null;
  begin(s);
  for (const day of [7, 10]) s.keeper.look(day + (s.d.between(8, 19) - s.hourOfSplit) / 24, true, true);
  return looksEvidence(foldIntroduction(s.setup, s.keeper.log, Math.round(s.toMs(11))));
}

const meanOf = ({ alpha, beta }: MissRate): number => alpha / (alpha + beta);
const sdOf = ({ alpha, beta }: MissRate): number =>
  Math.sqrt((alpha * beta) / ((alpha + beta) ** 2 * (alpha + beta + 1)));
const sum = (values: readonly number[]): number => values.reduce((total, value) => total + value, 0);
/** Logarithmic score: the better the statements, the higher. */
const score = (stated: readonly Stated[]): number =>
  sum(stated.map(({ chance, came }) => Math.log(Math.max(came ? chance : 1 - chance, 1e-6))));

it('comes near the keeper’s true eye, and the gate’s chance comes true with it', { timeout: 600_000 }, () => {
  const bins = empty().bins;
  const errors = { learnt: 0, prior: 0 };
  const scores = { learnt: 0, prior: 0 };
  let within = 0;
  for (let k = 0; k < keepers; k++) {
    const share = dice(50_000_000 + k).beta(1, 10);
    const seeds = (from: number, n: number) => Array.from({ length: n }, (_, i) => from + k * 100 + i);
    const evidence = seeds(51_000_000, earlierNucs * 2)
      .map((seed) => earlier(seed, share))
      .filter((one) => one !== null);
    const missRate = farmsMissRate(evidence.slice(0, earlierNucs))!;
    errors.learnt += Math.abs(meanOf(missRate) - share);
    errors.prior += Math.abs(priorMean - share);
    if (Math.abs(meanOf(missRate) - share) <= 2 * sdOf(missRate)) within++;
    for (const seed of seeds(52_000_000, nextNucs)) {
      // The first statement only: with and without what was learnt it is about the same moment.
      const first = play(seed, share, undefined, missRate).stated[0];
      const unlearnt = play(seed, share).stated[0];
      if (!first || !unlearnt) continue;
      count(bins, first);
      scores.learnt += score([first]);
      scores.prior += score([unlearnt]);
    }
  }
  expect(errors.learnt / errors.prior, 'error of the learnt share, against the prior’s').toBeLessThan(0.6);
  // About 95 % of a posterior lies within two standard deviations.
  expect(within / keepers).toBeGreaterThan(0.88);
  expect(scores.learnt, 'log score of the stated chances').toBeGreaterThan(scores.prior);
  const enough = bins.filter((bin) => bin.count >= 40);
  expect(enough.length).toBeGreaterThan(3);
  for (const bin of enough) expect(Math.abs(standardErrorsOff(bin)), JSON.stringify(bin)).toBeLessThan(3);
  console.log(
    `learnt share: mean error ${(errors.learnt / keepers).toFixed(3)} against ${(errors.prior / keepers).toFixed(3)} of the prior; ` +
      `${String(within)} of ${String(keepers)} within 2 sd; log score ${scores.learnt.toFixed(1)} against ${scores.prior.toFixed(1)}`,
  );
});
