/** The mass account of a nuc: every gram that came or went, by cause. The box's mass must equal their sum. */

export interface Ledger {
  nectarInG: number;
  broughtByKeeperG: number;
  driftedInG: number;
  metabolisedG: number;
  breathedByBroodG: number;
  evaporatedG: number;
  deadBroodG: number;
  deadBeesG: number;
  lostAfieldG: number;
  driftedG: number;
  robbedG: number;
  abscondedG: number;
}

export const emptyLedger = (): Ledger => ({
  nectarInG: 0,
  broughtByKeeperG: 0,
  driftedInG: 0,
  metabolisedG: 0,
  breathedByBroodG: 0,
  evaporatedG: 0,
  deadBroodG: 0,
  deadBeesG: 0,
  lostAfieldG: 0,
  driftedG: 0,
  robbedG: 0,
  abscondedG: 0,
});

/** Change of box and bees afield together that the account explains, g. */
export function balanceG(ledger: Ledger): number {
  const { nectarInG, broughtByKeeperG, driftedInG, ...gone } = ledger;
  return nectarInG + broughtByKeeperG + driftedInG - Object.values(gone).reduce((sum, g) => sum + g, 0);
}
