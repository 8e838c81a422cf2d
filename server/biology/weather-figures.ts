/** Weather at a nuc: what the signals reckon with where no sensor and no forecast tells. */
import { assumed } from './figure.ts';

export const forecastErrorK = assumed(1.5, 'K', 'error of a forecast night’s coldest hour at the nuc', 1, 3);
export const nightDropK = assumed(7, 'K', 'nights lose 5-10 K from the afternoon on', 3, 14);
export const nightDropErrorK = assumed(3, 'K', 'how nights differ in it, where none was measured', 2, 5);
export const nightDropOwnErrorK = assumed(2.5, 'K', 'the same after the last nights’ own, at least', 1.5, 4);
export const flightAfterRainMinutes = assumed(
  15,
  'min',
  'flight is back so long after a shower (Lundie 1925 says only that bees resume promptly)',
  5,
  60,
);
export const rainGainAtMostG = assumed(400, 'g', 'more than this a roof can’t hold of a shower', 200, 600);
export const roofSoakMm = assumed(0.5, 'mm', 'rain that wets a roof through', 0.2, 1);
export const roofDriesPerH = assumed(
  0.07,
  '1/h',
  'share of the water on a roof that dries by night',
  0.02,
  0.2,
);
export const roofDriesInSunPerH = assumed(0.35, '1/h', 'what a high sun adds', 0.15, 0.7);
export const nightDropHours = assumed(10, 'h', 'a night’s whole drop takes so long', 7, 14);
export const fullLightSunDeg = assumed(
  10,
  'deg',
  'from this height of the sun on light no longer holds flight back',
  5,
  15,
);
export const unknownWarmthShare = assumed(0.5, '1', 'flight where no thermometer tells how warm it is', 0, 1);
export const homeAfterDuskMinutes = assumed(
  30,
  'min',
  'the last foragers are home so long after dusk',
  10,
  45,
);
export const roofWetMinutes = assumed(
  60,
  'min',
  'what a roof holds of a shower is not known to the gram for so long',
  20,
  180,
);
export const roofOffHours = assumed(
  12,
  'h',
  'an error in the drying of a roof goes together for so long',
  6,
  24,
);
export const usualDaySwingK = assumed(12, 'K', 'the warmth of a usual day swings by so much', 6, 18);
