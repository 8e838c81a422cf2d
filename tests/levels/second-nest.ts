/**
 * A second brood nest, made to disagree with the simulator's: a cluster of two nodes, core and mantle, whose bees make heat
 * by the temperature they feel. It takes nothing from the simulator or the server, which a test checks.
 *
 * Resting heat: exponential in temperature, 2.4-fold for 10 K (Watmough and Camazine 1995; from memory). Heaters: each bee
 * starts at a temperature of its own (Jones et al. 2004: thresholds differ within a colony), a heater gives about 30 mW
 * (Stabentheiner et al. 2003; from memory), and the night wears them down. Mantle: conducts as (1 − ρ) ∕ ρ of its packing,
 * which rises as it cools (Ocko and Mahadevan 2014; from memory). To the outside: natural convection, ΔT to the power of
 * 1.25, and radiation, T⁴ (textbooks). Wind by the hour. Spreads without a source are chosen to be wide, from common practice.
 */
const stepS = 60;
const boltzmannWPerM2K4 = 5.670374e-8;
const zeroK = 273.15;

export interface NestOptions {
  readonly bees: readonly [number, number];
}

export interface SecondNest {
  readonly bees: number;
  /** Core of the nest, and what a probe in it reads, °C: a value for each of the outside's. */
  readonly coreC: Float64Array;
  readonly readC: Float64Array;
}

/** Lehmer's chain, Park and Miller 1988. */
function dice(seed: number) {
  let state = (seed * 7919 + 12_345) % 2_147_483_647 || 1;
  const even = (): number => {
    state = (state * 48_271) % 2_147_483_647;
    return state / 2_147_483_647;
  };
  for (let i = 0; i < 10; i++) even();
  const from = ([low, high]: readonly [number, number]): number => low + (high - low) * even();
  const bell = (): number => Math.sqrt(-2 * Math.log(even())) * Math.cos(2 * Math.PI * even());
  return { even, from, bell };
}

/** Share of a normal population under `z`: logistic stand-in, off by less than 0.01. */
const shareUnder = (z: number): number => 1 / (1 + Math.exp(-1.702 * z));

interface Cluster {
  readonly bees: number;
  readonly heaterW: number;
  readonly mostHeating: number;
  readonly wantsC: number;
  readonly differK: number;
  readonly wearPerH: number;
  readonly looseWPerK: number;
  readonly wallM2: number;
  readonly windShare: number;
  readonly coreJPerK: number;
  readonly mantleJPerK: number;
}

/** Heat that leaves the mantle through the box, W. */
function lossW({ wallM2, windShare }: Cluster, mantleC: number, outsideC: number, wind: number): number {
  const apartK = mantleC - outsideC;
  const convectionW = 0.62 * wallM2 * Math.sign(apartK) * Math.abs(apartK) ** 1.25 * (1 + windShare * wind);
  const radiationW = 0.2 * boltzmannWPerM2K4 * wallM2 * ((mantleC + zeroK) ** 4 - (outsideC + zeroK) ** 4);
  return convectionW + radiationW;
}

/** Conductance of the mantle: loose over 25 °C, packed half as dense again at 10 °C. */
function mantleWPerK(looseWPerK: number, mantleC: number): number {
  const packing = 0.35 + 0.2 * Math.min(1, Math.max(0, (25 - mantleC) / 15));
  return (looseWPerK * ((1 - packing) / packing)) / ((1 - 0.35) / 0.35);
}

export function secondNest(
  seed: number,
  outsideC: Float64Array,
  everyMin: number,
  options: NestOptions,
): SecondNest {
  const { even, from, bell } = dice(seed);
  const bees = from(options.bees);
  const cluster: Cluster = {
    bees,
    heaterW: from([0.024, 0.036]),
    mostHeating: from([0.1, 0.15]),
    wantsC: from([34.2, 35.2]),
    differK: from([0.5, 1.1]),
    wearPerH: from([0, 0.025]),
    looseWPerK: from([1.1, 1.9]) * Math.sqrt(bees / 5000),
    wallM2: from([0.45, 0.7]),
    windShare: from([0, 0.3]),
    coreJPerK: from([4000, 8000]),
    mantleJPerK: from([9000, 22_000]),
  };
  const probeLagMin = from([3, 15]);
  let [coreC, mantleC, probeC, worn, wind] = [34, 24, 34, 0, 0];
  const core = new Float64Array(outsideC.length);
  const read = new Float64Array(outsideC.length);
  for (let i = 0; i < outsideC.length; i++) {
    const airC = outsideC[i] as number;
    wind = Math.max(0, 0.9 * wind + 0.3 * bell());
    for (let s = 0; s < (everyMin * 60) / stepS; s++) {
      const heating =
        cluster.mostHeating * shareUnder((cluster.wantsC - coreC) / cluster.differK) * (1 - worn);
      const restW = 0.0005 * 2.4 ** ((coreC - 18) / 10) * bees * 0.5;
      const restMantleW = 0.0005 * 2.4 ** ((mantleC - 18) / 10) * bees * 0.5;
      // Over what they want bees fan: heat goes straight out.
      const fannedW = 25 * Math.max(0, coreC - cluster.wantsC - 0.8);
      const heaterW = bees * heating * cluster.heaterW;
      const acrossW = mantleWPerK(cluster.looseWPerK, mantleC) * (coreC - mantleC);
      coreC += ((restW + heaterW - acrossW - fannedW) * stepS) / cluster.coreJPerK;
      mantleC +=
        ((acrossW + restMantleW - lossW(cluster, mantleC, airC, wind)) * stepS) / cluster.mantleJPerK;
      const hardship = heating / cluster.mostHeating;
      worn = Math.min(0.3, Math.max(0, worn + ((hardship - 0.8) * cluster.wearPerH * stepS) / 3600));
    }
    probeC += (1 - Math.exp(-everyMin / probeLagMin)) * (coreC - probeC);
    core[i] = coreC;
    read[i] = Math.round((probeC + 0.06 * bell() + (even() < 0.002 ? 3 * bell() : 0)) * 16) / 16;
  }
  return { bees, coreC: core, readC: read };
}
