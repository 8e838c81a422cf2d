/** What a minute and an hour do to a nuc. Every gram that moves is entered in the ledger. */
import { addEmerged, stepAdultsHour, stepTraffic, takeShare } from './adults.ts';
import { broodMassG, countBrood, developmentSpeed, stepBroodHour } from './brood.ts';
import { chillLimitC, eggG, honeyJPerG, loadG, swarmLoadG } from '../constants.ts';
import type { Happening } from '../happenings.ts';
import { leaveBy, stillHere, takeAway } from './homing.ts';
import { beesAtHome, type NucState } from './nuc-state.ts';
import type { Rng } from '../random.ts';
import { stepWarmth } from './thermal.ts';

/** Half of nectar is water that leaves on the way to honey, most of it within a day and a half. From memory. */
const nectarWaterShare = 0.5;
const nectarDryingMin = 30 * 60;

/** A minute of flight: old foragers leave for good, the others come and go with their loads. */
export function stepFlight(nuc: NucState, rng: Rng, flight: number, flownH: number): void {
  const before = nuc.old.gone;
  if (flight > 0 && leaveBy(nuc.old, flownH) > 0) {
    nuc.drifted += nuc.old.gone - before;
    nuc.ledger.driftedG += (nuc.old.stillHereG[before] ?? 0) - (nuc.old.stillHereG[nuc.old.gone] ?? 0);
  }
  const traffic = stepTraffic(rng, nuc.adults, flight, nuc.p.foragerDeathPerDay);
  const nectarG = traffic.cameHome * loadG * nuc.p.nectarFlow * nuc.fieldToday;
  nuc.storesG += nectarG * (1 - nectarWaterShare);
  nuc.nectarWaterG += nectarG * nectarWaterShare;
  nuc.ledger.nectarInG += nectarG;
  nuc.ledger.lostAfieldG += traffic.lost * nuc.p.bodyG;
  const driedG = nuc.nectarWaterG / nectarDryingMin;
  nuc.nectarWaterG -= driedG;
  nuc.ledger.evaporatedG += driedG;
}

/** A minute of heat; the honey burnt for it leaves as gas and vapour. Returns the heat, W. */
export function stepHeat(
  nuc: NucState,
  wanderC: number,
  outsideC: number,
  radiationWm2: number,
  leak: number,
): number {
  const cells = nuc.cells.open + nuc.cells.sealed;
  const broodPull = 1 - Math.exp(-cells / 250);
  const supply = {
    bees: beesAtHome(nuc),
    mostWPerBee: nuc.p.heatWPerBee,
    broodPull,
    wanderC: wanderC * (nuc.p.setWanderC * broodPull + 1.8 * (1 - broodPull)),
    fed: nuc.storesG > 0,
  };
  const heatW = stepWarmth(nuc.warmth, nuc.p, supply, outsideC, radiationWm2, leak);
  const burntG = Math.min(Math.max(0, nuc.storesG), (heatW * 60) / honeyJPerG);
  nuc.storesG -= burntG;
  nuc.ledger.metabolisedG += burntG;
  const breathG = Math.min(nuc.breathG, nuc.breathPerMinG);
  nuc.breathG -= breathG;
  nuc.ledger.breathedByBroodG += breathG;
  nuc.chillCh += Math.max(0, chillLimitC.brood - nuc.warmth.nestC) / 60;
  nuc.developedDays += developmentSpeed(nuc.warmth.nestC) / 1440;
  return heatW;
}

/** Robbers at work, strangers coming in, and the mass departure under way. */
export function stepOthers(nuc: NucState, rng: Rng, minute: number, flight: number): void {
  if (nuc.robbing) {
    const goneG = Math.min(Math.max(0, nuc.storesG), (nuc.robbing.gPerHour * Math.min(1, 1.5 * flight)) / 60);
    nuc.storesG -= goneG;
    nuc.ledger.robbedG += goneG;
    if (minute >= nuc.robbing.untilMin) nuc.robbing = null;
  }
  if (nuc.driftingIn) {
    const bees = flight > 0 ? rng.poisson((nuc.driftingIn.beesPerFlightHour * flight) / 60) : 0;
    nuc.adults.foragersHome += bees;
    nuc.ledger.driftedInG += bees * nuc.p.bodyG;
    if (minute >= nuc.driftingIn.untilMin) nuc.driftingIn = null;
  }
  if (nuc.absconding) {
    leaveTogether(nuc, rng, nuc.absconding.shareAMinute);
    if (minute >= nuc.absconding.untilMin) nuc.absconding = null;
  }
}

/** A share of all bees at home leaves in this minute, crops filled as far as the stores go. */
function leaveTogether(nuc: NucState, rng: Rng, share: number): void {
  const { ledger } = nuc;
  const bees = takeShare(rng, nuc.adults, share);
  const old = rng.binomial(stillHere(nuc.old), share);
  const honeyG = Math.min(Math.max(0, nuc.storesG), (bees + old) * swarmLoadG);
  nuc.storesG -= honeyG;
  ledger.abscondedG += bees * nuc.p.bodyG + takeAway(nuc.old, old) + honeyG;
}

/** An hour has passed: brood grows and emerges, bees die and take up foraging, eggs are laid. */
export function stepHour(nuc: NucState, rng: Rng, minute: number): void {
  const { ledger, p } = nuc;
  const fed = nuc.storesG > 0;
  layEggs(nuc, rng, minute);
  const brood = stepBroodHour(rng, nuc.brood, p.bodyG, nuc.developedDays, nuc.chillCh, fed);
  addEmerged(nuc.adults, brood.emerged);
  nuc.emerged += brood.emerged;
  ledger.deadBroodG += brood.diedG;
  nuc.storesG -= brood.fedG;
  nuc.broodG = broodMassG(nuc.brood, p.bodyG);
  nuc.cells = countBrood(nuc.brood);
  nuc.breathG += brood.breathedG;
  nuc.breathPerMinG = nuc.breathG / 60;
  const adults = stepAdultsHour(rng, nuc.adults, stillHere(nuc.old), nuc.flownH, !fed);
  ledger.deadBeesG += adults.died * p.bodyG;
  nuc.chillCh = 0;
  nuc.developedDays = 0;
  nuc.flownH = 0;
}

/** A new queen works up to what the nuc can cover over three days. From memory: some hundreds of eggs a day in a nuc. */
function layEggs(nuc: NucState, rng: Rng, minute: number): void {
  if (nuc.layingSinceMin === null || nuc.storesG <= 0) return;
  const workedUp = Math.min(1, (minute - nuc.layingSinceMin + 360) / (3 * 1440));
  const perDay = Math.min(1000, 0.18 * beesAtHome(nuc)) * workedUp;
  const eggs = rng.poisson(perDay / 24);
  const youngest = nuc.brood.cohorts[0];
  if (youngest && youngest.ageDays < 0.25) youngest.cells += eggs;
  else nuc.brood.cohorts.unshift({ ageDays: 0, cells: eggs });
  nuc.storesG -= eggs * eggG;
}

/** Starts what a happening sets going inside the box. */
export function begin(nuc: NucState, happening: Happening, minute: number): void {
  switch (happening.kind) {
    case 'visit':
    case 'load-changed':
      if (happening.kind === 'load-changed' && happening.feed) {
        const waterG = happening.netG * (happening.waterShare ?? 0);
        nuc.nectarWaterG += waterG;
        nuc.storesG += happening.netG - waterG;
      } else nuc.tareG += happening.netG;
      nuc.ledger.broughtByKeeperG += happening.netG;
      return;
    case 'robbed': {
      const minutes = Math.round((happening.untilMs - happening.atMs) / 60_000);
      nuc.robbing = { untilMin: minute + minutes, gPerHour: happening.gPerHour };
      return;
    }
    case 'drifted-in': {
      const untilMin = minute + Math.round((happening.untilMs - happening.atMs) / 60_000);
      nuc.driftingIn = { untilMin, beesPerFlightHour: happening.beesPerFlightHour };
      return;
    }
    case 'absconded': {
      const shareAMinute = 1 - (1 - happening.share) ** (1 / happening.minutes);
      nuc.absconding = { untilMin: minute + happening.minutes - 1, shareAMinute };
      return;
    }
    case 'queen-laying':
      nuc.layingSinceMin = minute;
      return;
    case 'laying-stopped':
      nuc.layingSinceMin = null;
      return;
    case 'lifted':
    case 'toppled':
    case 'stolen':
      return;
  }
}
