/**
 * What the parent's scale would add to the mass of the foragers that left its nuc: they arrive there. At its best: the
 * parent's usual gain is taken from seven nights before the split and taken to stay as it was, nobody opens it, and both
 * estimates are put together by their variances. How unlike a parent's days are is all that counts; it is given.
 */
import { analyseNuc } from '../../server/signals/analyse.ts';
import { level90, z90 } from '../../server/signals/statistics/intervals.ts';
import { medianLevel, shareLevel, type Level } from './level.ts';
import { laidOnReal, realHives, second, type MakeTruth } from './drift-truths.ts';
import { spread } from './spread.ts';

const dayMs = 86_400_000;
const nightsBefore = 7;
/** Of a night weight itself, g. */
const nightSdG = 10;

/** Spread of a day's gain, g. The first is what scales of real hives were seen to do where nothing flows, the others common practice. */
const flows: readonly { readonly name: string; readonly daySdG: number }[] = [
  { name: 'no flow', daySdG: 45 },
  { name: 'a weak flow', daySdG: 200 },
  { name: 'a flow', daySdG: 600 },
];
const worlds: readonly { readonly name: string; readonly make: MakeTruth }[] = [
  { name: 'second generator', make: second() },
  ...(realHives.length > 0
    ? [{ name: 'laid on real scales', make: laidOnReal({ traffic: 0.25, siblings: false }) }]
    : []),
];

/** Normal, by a seed: a congruential generator (Park and Miller 1988), twelve uniforms less six. */
function bells(seed: number): () => number {
  let state = 1 + (spread(seed, 5) % 2_147_483_646);
  const even = (): number => (state = (state * 48_271) % 2_147_483_647) / 2_147_483_647;
  return () => Array.from({ length: 12 }, even).reduce((sum, u) => sum + u, -6);
}

/** What the parent has gained over its usual by the night of a day, and that rise's variance, g and g². */
function riseOf(
  seed: number,
  daySdG: number,
  day: number,
  arrivedG: number,
): { g: number; variance: number } {
  const bell = bells(seed);
  const nets = Array.from({ length: nightsBefore + day }, () => daySdG * bell());
  const before = nets.slice(0, nightsBefore);
  const usual = before.reduce((sum, g) => sum + g, 0) / nightsBefore;
  const since = nets.slice(nightsBefore).reduce((sum, g) => sum + g - usual, 0);
  const sdG = Math.sqrt(before.reduce((sum, g) => sum + (g - usual) ** 2, 0) / (nightsBefore - 1));
  const noise = nightSdG * Math.SQRT2;
  return {
    g: arrivedG + since + noise * bell(),
    variance: sdG ** 2 * day * (1 + day / nightsBefore) + noise ** 2,
  };
}

export function parentLevels(seeds: readonly number[]): Level[] {
  return worlds.flatMap(({ name, make }) => {
    const cases = seeds.flatMap((seed) => {
      const truth = make(seed, 5.5);
      return [3, 5].flatMap((day) => {
        const atMs = truth.movedAtMs + day * dayMs;
        const { massG } = analyseNuc(truth.input, atMs).drift;
        return massG.ok ? [{ seed, day, trueG: truth.goneG(atMs), massG }] : [];
      });
    });
    return [3, 5].flatMap((day) => {
      const ofDay = cases.filter((one) => one.day === day);
      const title = (what: string): string => `${name}, day ${String(day)}: ${what}`;
      const error = (what: string, off: readonly number[]): Level => ({
        ...medianLevel(
          title(`median error of the mass, ${what}`),
          off.map((g) => Math.abs(g) / 100),
          {},
        ),
        unit: 'g',
      });
      return [
        error(
          'the nuc’s scale alone',
          ofDay.map(({ massG, trueG }) => massG.value - trueG),
        ),
        ...flows.flatMap(({ name: flow, daySdG }) => {
          const both = ofDay.map(({ seed, massG, trueG }) => {
            const own = ((massG.high - massG.low) / (2 * z90)) ** 2;
            const rise = riseOf(seed, daySdG, day, trueG);
            const variance = 1 / (1 / own + 1 / rise.variance);
            const g = variance * (massG.value / own + rise.g / rise.variance);
            return { off: g - trueG, covered: Math.abs(g - trueG) <= z90 * Math.sqrt(variance) };
          });
          return [
            error(
              `with the parent’s, ${flow}`,
              both.map(({ off }) => off),
            ),
            shareLevel(
              title(`${String(100 * level90)} % interval covers, with the parent’s, ${flow}`),
              both.filter(({ covered }) => covered).length,
              both.length,
              {},
            ),
          ];
        }),
      ];
    });
  });
}
