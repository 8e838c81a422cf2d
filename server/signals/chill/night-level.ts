/** Where the lowest of a night lies in a nest that holds: its own nights tell how far it sinks, and how they differ. */
import { levelErrorK } from '../../biology/nest-figures.ts';

/** A night; one of age 0 still runs. */
export interface SunkNight {
  readonly ageDays: number;
  /** Lowest brood, °C. */
  readonly lowestC: number;
  /** Cold got the better of it: no night of a nest that holds. */
  readonly gaveWay: boolean;
}

export interface NightLevel {
  readonly meanC: number;
  readonly sdK: number;
}

/** Method: each night counts so much of the one after it. */
const olderCounts = 0.8;

/**
 * Mean and spread of the lowest, from what the nights that held took off the usual level. One night that took nothing stands
 * beside them, so that a first night is not taken for a habit.
 */
export function nightLevel(usualC: number, nights: readonly SunkNight[]): NightLevel {
  const held = nights.filter(({ ageDays, gaveWay }) => ageDays > 0 && !gaveWay);
  const sunk = [
    { k: 0, weight: 1 },
    ...held.map(({ ageDays, lowestC }) => ({ k: usualC - lowestC, weight: olderCounts ** (ageDays - 1) })),
  ];
  const total = sunk.reduce((sum, { weight }) => sum + weight, 0);
  const meanK = sunk.reduce((sum, { k, weight }) => sum + weight * k, 0) / total;
  const varianceK2 = sunk.reduce((sum, { k, weight }) => sum + weight * (k - meanK) ** 2, 0) / total;
  return { meanC: usualC - meanK, sdK: Math.hypot(levelErrorK.value, Math.sqrt(varianceK2)) };
}
