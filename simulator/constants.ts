/**
 * Figures of the simulated world, each with its source. The simulator is the oracle by which the server's
 * estimators are judged, so it keeps its own figures and shares none with them. "From memory" marks a
 * value whose source could not be read; `PHYSICS.md` says what each one does.
 */

/** Workers on an occupied Langstroth deep comb, both sides, on average. Simpson 1969, J. Apic. Res. 8:3. */
export const beesPerFrame = 1400;

/** Cells of both sides of a deep comb. From memory: 3,300-3,500 a side. */
export const cellsPerFrame = 6800;

/** What a bee brings home. Meikle et al. 2018, PLoS ONE 13:e0197589. */
export const loadG = 0.02;

/** Recruitment of hive bees to foraging and its inhibition by foragers, a day. Khoury et al. 2011, PLoS ONE 6:e18491. */
export const recruitment = { alpha: 0.25, sigma: 0.75 };

/** Egg, open larva and sealed stages, in days from laying. Mussen et al. 1987 (University of California). */
export const brood = {
  hatchDays: 3,
  sealedDays: 9,
  emergenceDays: 21,
  /** Individual spread of the emergence; Winston 1987 gives 20-22 days (from memory). */
  emergenceSdDays: 0.35,
  /** Egg to adult. Fukuda & Sakagami 1968. */
  survival: 0.851,
};

/** Mass of a larva when its cell is sealed, g. From memory: 0.14-0.16. */
export const sealedLarvaG = 0.155;

/** Mass of an egg, g. From memory: about 0.1 mg. */
export const eggG = 0.0001;

/** Share of the feed's mass that becomes larva; the rest is breathed out. From memory, roughly. */
export const growthEfficiency = 0.5;

/** Heat of a resting worker at 20 and 35 °C, W. Thermochimica Acta 382:221 (2002), for 0.1 g. */
export const restingHeatW = { at20C: 0.0005, at35C: 0.0012 };

/** Brood nest set point. Jones et al. 2005 and others: 33-36 °C, mean 34.5. */
export const broodSetC = 34.5;

/** Temperature that resting workers prefer, and about what a broodless nuc keeps. Thermochimica Acta 382:221 (2002). */
export const broodlessSetC = 28;

/** Below this a bee can no longer warm herself (chill coma). From memory: 7-10 °C. */
export const chillComaC = 9;

/** Heat of a gram of honey: 0.8 g of sugar at 15.6 kJ/g (glucose, tabulated heat of combustion). */
export const honeyJPerG = 12_500;

/** Limits by which the truth counts chilling: sealed brood 32 °C (survey of brood-nest figures), caged queen 15 °C (McAfee et al. 2020). */
export const chillLimitC = { brood: 32, cage: 15 };
/** Digital thermometers of the usual kind are good to ± 0.5 °C between −10 and 85 °C (data sheet of the DS18B20). */
export const probeErrorK = 0.5;

/**
 * Hazard for sealed brood per °C·h under 32 °C. Chosen so that 24 h at 18 °C (336 °C·h) kills about a third,
 * the excess that Flores et al. 1996 found for brood chilled so and then kept at 30 °C.
 */
export const sealedBroodHazardPerCh = 0.0012;

/** Share of the workers that go with a swarm. Rangel & Seeley 2012, Insectes Soc. 59:453 (for scale only: absconding takes nearly all). */
export const abscondShare = { low: 0.85, high: 0.98 };

/** Honey that a leaving swarm bee carries, g. From memory: crops of 20-40 mg. */
export const swarmLoadG = 0.03;

/**
 * Clear-sky radiation 910 sin h − 30 W/m² and its loss to cloud, 1 − 0.75 N^3.4. Kasten & Czeplak 1980, Solar Energy
 * 24:177 (from memory).
 */
export const sky = { slopeWm2: 910, offsetWm2: 30, cloudLoss: 0.75, cloudPower: 3.4 };

/**
 * What makes one day unlike another, as standard deviation and memory of a wandering (`random.ts`). Assumed: chosen so
 * that a day swings by 6-14 K and is coldest about dawn.
 */
export const weatherWander = {
  /** Its deviation is a parameter of the weather. */
  front: { memoryMin: 2.5 * 1440 },
  /** Of the logit of the cover, before it is scaled. */
  cloud: { sd: 1.1, memoryMin: 7 * 60, scale: 1.6 },
  airK: { sd: 0.35, memoryMin: 40 },
  /** Of the logarithm of the wind, before it is scaled. */
  wind: { sd: 1, memoryMin: 180, scale: 0.5 },
};

/** How the ground and the rain change the air. Assumed. */
export const air = {
  /** Hours in which the air follows the ground's warmth to 1/e. */
  groundMemoryH: 4,
  /** Share of the day's mean radiation whose loss at night a full cover holds back. */
  keptByCloud: 0.55,
  /** Colder while it rains, K, and minutes until most of it is reached. */
  rainK: -2,
  rainMemoryMin: 45,
};

/** Wind at night as a share of the mean, and the radiation at which the sun adds another whole of it. Assumed. */
export const sunsWind = { atNight: 0.6, doubledByWm2: 1000 };

/** Showers: minutes and mm a minute, least and mean of what is above it; they come above this cover. Assumed. */
export const shower = { leastMin: 3, meanMin: 40, leastMm: 0.004, meanMm: 0.025, fromCloud: 0.75 };

/** Mean radiation under an average sky as a share of that under a clear one. Assumed. */
export const averageSkyShare = 0.8;

/**
 * Trips of a forager: from memory, about half an hour each. Her death afield is drawn per nuc (Khoury et al. 2011 take
 * 0.154 a day as the norm: from memory).
 */
export const forager = { minutesPerTrip: 25, tripsPerHour: 0.8 };

/** Workers at home that die in a day, whatever their age. From memory: about 1 % of a colony a day, most of it afield. */
export const homeDeathPerDay = 0.004;
