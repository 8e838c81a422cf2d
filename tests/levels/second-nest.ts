/**
 * A second brood nest, which shares nothing with the simulator's but the bees: a ball of comb and bees in three nodes (core,
 * mantle, inside of the box), whose bees make heat by the temperature they feel. It imports nothing, and every figure of a
 * colony is drawn evenly between the ends below, so that none is chosen for what it makes the rules say.
 *
 * Resting bees: 4.7 mW/g at 20 °C, 12.3 mW/g at 35 °C (sleeping bees, Thermochimica Acta 382:221, 2002). A heating bee: 19 mW,
 * an agitated one 46 mW (Debnam et al. 2024). Share that heats: 2 % (Debnam et al.) to a third under cold stress (Stabentheiner et
 * al. 2010; from memory). Thresholds differ within a colony (Jones et al. 2004). Heat through bees: (1 − ρ) ∕ ρ of
 * their packing, which rises as they cool (Ocko and Mahadevan 2014; 0.2 W/(m·K) from memory). Box: 0.75 and 0.86 W/K measured
 * on two boxes of 25 mm larch under a quilt (Heaf, after Mitchell 2016); a thin-walled nuc up to twice that. Film on the ball:
 * still air, 4 to 8 W/(m²·K) (textbooks). Brood frames, bees on them, comb and stores: common practice.
 */
import { spread } from './spread.ts';

const stepS = 60;

export interface NestOptions {
  readonly bees: readonly [number, number];
}

/** For weather in which bees need no water to cool. */
export interface SecondNest {
  readonly bees: number;
  /** Core of the nest, and what a probe in it reads, °C: a value for each of the outside's. */
  readonly coreC: Float64Array;
  readonly readC: Float64Array;
  /** Heat that its bees make, W: a value for each of the outside's. */
  readonly heatW: Float64Array;
}

/** Lowest and highest of what a colony may be. */
export const ranges = {
  beeG: [0.1, 0.13],
  restOfPublished: [0.7, 1.3],
  heaterW: [0.019, 0.046],
  mostHeating: [0.02, 0.33],
  wantsC: [34, 35.3],
  differK: [0.5, 1.3],
  wornPerH: [0, 0.03],
  broodFrames: [1, 3],
  litresPerFrame: [1.2, 1.6],
  looseWPerMK: [0.15, 0.25],
  filmWPerM2K: [4, 8],
  boxWPerK: [0.7, 1.7],
  windShare: [0, 0.3],
  combKgPerLitre: [0.4, 0.8],
  storesKg: [2, 8],
  probeLagMin: [3, 15],
} as const satisfies Readonly<Record<string, readonly [number, number]>>;

/** Lehmer's chain, Park and Miller 1988. */
function dice(seed: number) {
  let state = spread(seed, 3) % 2_147_483_647 || 1;
  const even = (): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  for (let i = 0; i < 10; i++) even();
  const from = ([low, high]: readonly [number, number]): number => low + (high - low) * even();
  const bell = (): number => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
  return { even, from, bell };
}

type Figures = Readonly<Record<keyof typeof ranges, number>>;

interface Ball {
  readonly coreJPerK: number;
  readonly mantleJPerK: number;
  readonly boxJPerK: number;
  readonly filmWPerK: number;
  /** Conductance from core to mantle where its bees are packed to `rho`, W/K. */
  readonly acrossWPerK: (rho: number) => number;
  readonly looseRho: number;
}

/** Bees fill the gaps between the combs: a third of the ball. Comb and brood hold three kilojoules a kilogram and kelvin, stores 2.5. */
function ballOf(bees: number, f: Figures): Ball {
  const litres = Math.max(f.broodFrames * f.litresPerFrame, (bees * f.beeG) / 1000 / 0.5 / (1 / 3));
  const radiusM = Math.cbrt((3 * litres) / 1000 / (4 * Math.PI));
  const [innerM, outerM] = [0.45 * radiusM, 0.9 * radiusM];
  const shape = (4 * Math.PI) / (1 / innerM - 1 / outerM);
  const coreShare = 0.5;
  const heatJPerK = litres * f.combKgPerLitre * 3000 + bees * f.beeG * 3.5;
  return {
    coreJPerK: coreShare * heatJPerK,
    mantleJPerK: (1 - coreShare) * heatJPerK,
    boxJPerK: f.storesKg * 2500,
    filmWPerK: f.filmWPerM2K * 4 * Math.PI * radiusM ** 2,
    acrossWPerK: (rho) => shape * f.looseWPerMK * ((1 - rho) / rho),
    looseRho: Math.min(0.6, Math.max(0.2, (bees * f.beeG) / 1000 / (litres / 3))),
  };
}

/** Share of a normal population under `z`: logistic stand-in, off by less than 0.01. */
const shareUnder = (z: number): number => 1 / (1 + Math.exp(-1.702 * z));

const restWPerG = (tempC: number): number => 0.0047 * (12.3 / 4.7) ** ((tempC - 20) / 15);

/** A mantle that cools draws closer, to half as dense again at 10 °C. */
const packed = (looseRho: number, mantleC: number): number =>
  Math.min(0.8, looseRho * (1 + 0.5 * Math.min(1, Math.max(0, (25 - mantleC) / 15))));

export function secondNest(
  seed: number,
  outsideC: Float64Array,
  everyMin: number,
  options: NestOptions,
): SecondNest {
  const { even, from, bell } = dice(seed);
  const bees = from(options.bees);
  const f = Object.fromEntries(Object.entries(ranges).map(([name, range]) => [name, from(range)])) as Figures;
  const ball = ballOf(bees, f);
  const n = outsideC.length;
  const [core, read, heat] = [new Float64Array(n), new Float64Array(n), new Float64Array(n)];
  let [coreC, mantleC, boxC, probeC, worn, wind] = [34, 28, 20, 34, 0, 0];
  for (let i = 0; i < n; i++) {
    wind = Math.max(0, 0.9 * wind + 0.3 * bell());
    for (let s = 0; s < (everyMin * 60) / stepS; s++) {
      const hardship = shareUnder((f.wantsC - coreC) / f.differK);
      const heaterW = bees * f.mostHeating * hardship * (1 - worn) * f.heaterW;
      const restW = (tempC: number): number =>
        (bees / 2) * f.beeG * f.restOfPublished * restWPerG(Math.max(10, tempC));
      // Over what they want bees fan: heat goes straight out.
      const fannedW = 25 * Math.max(0, coreC - f.wantsC - 0.8);
      const acrossW = ball.acrossWPerK(packed(ball.looseRho, mantleC)) * (coreC - mantleC);
      const filmW = ball.filmWPerK * (mantleC - boxC);
      const lossW = f.boxWPerK * (1 + f.windShare * wind) * (boxC - (outsideC[i] as number));
      const [coreRestW, mantleRestW] = [restW(coreC), restW(mantleC)];
      heat[i] = heaterW + coreRestW + mantleRestW;
      coreC += ((heaterW + coreRestW - acrossW - fannedW) * stepS) / ball.coreJPerK;
      mantleC += ((acrossW + mantleRestW - filmW) * stepS) / ball.mantleJPerK;
      boxC += ((filmW + fannedW - lossW) * stepS) / ball.boxJPerK;
      worn = Math.min(0.3, Math.max(0, worn + ((hardship - 0.8) * f.wornPerH * stepS) / 3600));
    }
    probeC += (1 - Math.exp(-everyMin / f.probeLagMin)) * (coreC - probeC);
    core[i] = coreC;
    read[i] = Math.round((probeC + 0.06 * bell() + (even() < 0.002 ? 3 * bell() : 0)) * 16) / 16;
  }
  return { bees, coreC: core, readC: read, heatW: heat };
}
