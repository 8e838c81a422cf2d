/** What nobody states about a nuc, and what the signals and alerts reckon with all the same. */
import { assumed } from './figure.ts';

export const nucBeesUsually = assumed(
  4000,
  'bees',
  'a nuc of two frames of bees, where they were not counted',
  2000,
  8000,
);
export const broodAndPollenG = assumed(300, 'g', 'brood and pollen of a nuc', 100, 900);
/** By daylight, beyond the night’s own rate. */
export const robbingLossG = assumed(250, 'g', 'more than a nuc eats and dries off in a day', 150, 400);
export const roofWaterG = assumed(80, 'g', 'half a millimetre of rain on a sixth of a square metre', 20, 160);
export const eggsAfterReleaseDays = assumed(
  4,
  'd',
  'a queen lays some days after her way out was opened',
  1,
  10,
);
/** Degree-hours of cold or heat that count at the cage of a queen. */
export const cageDoseKh = assumed(0.2, '°C·h', 'about a degree for a quarter of an hour', 0.05, 2);
