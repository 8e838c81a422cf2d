/**
 * Heat: a brood nest inside a box. Two lumps (nest; box with its air and outer combs) joined by the bees'
 * mantle, the box to the outside by its walls. The bees heat the nest as far as their numbers allow.
 */
import { broodlessSetC, broodSetC, chillComaC, restingHeatW } from '../constants.ts';

export interface Box {
  /** Walls, floor and lid to the outside, W/K. */
  readonly wallWPerK: number;
  /** Nest to box with the bees spread out, W/K. */
  readonly mantleWPerK: number;
  readonly nestJPerK: number;
  readonly boxJPerK: number;
  /** Sun caught, m² of full absorption. */
  readonly sunM2: number;
}

export interface Warmth {
  nestC: number;
  boxC: number;
}

export interface HeatSupply {
  /** Bees at home. */
  readonly bees: number;
  /** Most that they can keep up, W a bee. */
  readonly mostWPerBee: number;
  /** 1 with plenty of brood, 0 with none: how closely they regulate. */
  readonly broodPull: number;
  /** Wandering of the set point, K. */
  readonly wanderC: number;
  /** Fed: without stores they can't heat. */
  readonly fed: boolean;
}

/** Heat of resting bees at a temperature, W: exponential through the two published points. */
export function restingW(bees: number, tempC: number): number {
  const warm = Math.min(40, Math.max(0, tempC));
  return bees * restingHeatW.at20C * (restingHeatW.at35C / restingHeatW.at20C) ** ((warm - 20) / 15);
}

export const setPointC = (broodPull: number): number =>
  broodlessSetC + (broodSetC - broodlessSetC) * Math.min(1, broodPull);

const errorGainWPerK = 4;
/** Water fetched and evaporated. From memory: colonies hold 36 °C in heat of well over 40 °C. */
const mostCoolingWPerBee = 0.004;
/** Share of the demanded heat that bees without brood bother to make. */
const broodlessEffort = 0.15;

/** Heat that the bees make now, W: what holds the set point, between resting and the most they can. */
function beesHeatW(warmth: Warmth, mantleWPerK: number, supply: HeatSupply): number {
  if (supply.bees <= 0) return 0;
  const rest = restingW(supply.bees, warmth.nestC) * (supply.fed ? 1 : 0.3);
  if (!supply.fed || warmth.nestC < chillComaC) return rest;
  const target = setPointC(supply.broodPull) + supply.wanderC;
  const demand = mantleWPerK * (target - warmth.boxC) + errorGainWPerK * (target - warmth.nestC);
  const effort = broodlessEffort + (1 - broodlessEffort) * supply.broodPull;
  const most = Math.max(rest, supply.bees * supply.mostWPerBee * (0.5 + 0.5 * effort));
  return Math.min(most, Math.max(rest, rest + effort * (demand - rest)));
}

/** How far the nest is over what the bees put up with before they spread and fan, K; looser without brood. */
function excessC(warmth: Warmth, supply: HeatSupply): number {
  if (supply.bees <= 0) return 0;
  const comfortC = setPointC(supply.broodPull) + supply.wanderC + 0.3 + 1.5 * (1 - supply.broodPull);
  return Math.max(0, warmth.nestC - comfortC) * (0.3 + 0.7 * supply.broodPull);
}

/** Conductance of the mantle: bees draw together in the cold and spread and fan in the heat. */
function mantleNow(box: Box, warmth: Warmth, excess: number): number {
  const spread = 0.6 + 0.4 * Math.min(1, Math.max(0, (warmth.boxC - 8) / 17));
  return box.mantleWPerK * spread * (1 + 1.5 * Math.min(2, excess));
}

/**
 * One minute of heat flow; changes `warmth` in place and returns the heat that the bees made, W.
 * `leak` multiplies the walls' conductance (an open lid, a box on its side). Explicit Euler: the shortest
 * time constant here is some 10 minutes, so that a step of one minute errs by a few hundredths of a degree.
 */
export function stepWarmth(
  warmth: Warmth,
  box: Box,
  supply: HeatSupply,
  outsideC: number,
  radiationWm2: number,
  leak: number,
): number {
  const excess = excessC(warmth, supply);
  const mantle = mantleNow(box, warmth, excess) * (1 + 0.25 * (leak - 1));
  const heat = beesHeatW(warmth, mantle, supply);
  // They fan the box, too, and over 35 °C evaporate water in the nest.
  const walls = box.wallWPerK * leak * (1 + 0.8 * Math.min(3, excess));
  const cooling = Math.min(supply.bees * mostCoolingWPerBee, 8 * Math.max(0, warmth.nestC - 35));
  const toBox = mantle * (warmth.nestC - warmth.boxC);
  const toOutside = walls * (warmth.boxC - outsideC);
  warmth.nestC += ((heat - cooling - toBox) * 60) / box.nestJPerK;
  warmth.boxC += ((toBox - toOutside + box.sunM2 * radiationWm2) * 60) / box.boxJPerK;
  return heat;
}
