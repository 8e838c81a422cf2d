/**
 * What the signals room takes and what it gives back. All instants are ms since 1970 UTC, masses are
 * grams, temperatures degrees Celsius, rates say their unit in their name.
 */

/** A cleaned series: strictly ascending instants, one finite value each; suspects are not in it. */
export interface Series {
  readonly atMs: Float64Array;
  readonly value: Float64Array;
}

/** What the sensors of one nuc delivered, by place. An absent series means that nothing is assigned there. */
export interface NucSeries {
  /** Grams, calibrated, not temperature-corrected. */
  readonly weightG?: Series;
  readonly broodC?: Series;
  readonly cageC?: Series;
  readonly outsideC?: Series;
  readonly rainMm?: Series;
  readonly humidityPct?: Series;
}

/** Where the nuc stands: dusk, dawn and calendar days come from this. */
export interface SitePlace {
  readonly latDeg: number;
  readonly lonDeg: number;
  /** IANA zone, such as Europe/Berlin. */
  readonly timeZone: string;
}

/** A visit or other event that the keeper logged: what it explains is not news. */
export interface KnownEvent {
  readonly atMs: number;
  readonly kind: 'visit' | 'fed' | 'moved' | 'split';
}

/** A number with its honest interval, or a reason why there is none. */
export type Estimate =
  | {
      readonly ok: true;
      readonly value: number;
      readonly low: number;
      readonly high: number;
      /** Coverage of [low, high], such as 0.9. */
      readonly level: number;
      /** What it rests on, in plain words: nights, readings, days. */
      readonly restsOn: readonly string[];
    }
  | { readonly ok: false; readonly why: string };

export interface NightWeight {
  /** Local calendar date of the night's dawn, YYYY-MM-DD. */
  readonly date: string;
  readonly fromMs: number;
  readonly toMs: number;
  /** Robust level at the end of the quiet hours. */
  readonly levelG: number;
  readonly slopeGPerH: number;
  readonly residualG: number;
  readonly readings: number;
  /** Share of the quiet hours that readings cover, 0..1. */
  readonly coverage: number;
}

export type StepKind =
  'opened' | 'added' | 'taken' | 'fed' | 'lifted' | 'toppled' | 'mass-departure' | 'unexplained';

export interface WeightStep {
  readonly atMs: number;
  readonly sizeG: number;
  readonly sizeSdG: number;
  readonly kind: StepKind;
  /** The logged event that it goes with, if any. */
  readonly explainedBy?: KnownEvent;
}

export interface ForagerDrift {
  readonly state: 'no-flying-weather' | 'leaving' | 'gone' | 'cannot-tell';
  readonly why: string;
  readonly massG: Estimate;
  readonly bees: Estimate;
  /** Share of those who will leave that has left, 0..1. */
  readonly completeness: Estimate;
  readonly flightHours: number;
  readonly flyingDays: number;
  /** Points of the fitted curve for drawing: grams left so far, with its interval. */
  readonly curve: readonly {
    readonly atMs: number;
    readonly massG: number;
    readonly lowG: number;
    readonly highG: number;
  }[];
}

/** What the brood temperature should look like, given what brood should be there. */
export type BroodRegime = 'open-brood' | 'sealed-brood' | 'broodless' | 'new-brood-expected' | 'unknown';

export interface BroodTemperature {
  readonly regime: BroodRegime;
  /** Expected band at this stage. */
  readonly bandC: { readonly low: number; readonly high: number } | null;
  readonly latestC: number | null;
  readonly latestAtMs: number | null;
  /** Median of the last 24 hours, spread (p90 − p10), share in band. */
  readonly levelC: Estimate;
  readonly spreadC: Estimate;
  readonly shareInBand: Estimate;
  /** Slope of brood on lagged outside temperature: 0 regulated, 1 not at all. */
  readonly coupling: Estimate;
}

/** Cold or heat suffered below or above a limit. */
export interface ThermalDose {
  readonly what: 'open-brood' | 'sealed-brood' | 'caged-queen';
  readonly direction: 'cold' | 'heat';
  readonly limitC: number;
  /** Latest reading the wrong side of the limit, and since when without a break. */
  readonly beyondNow: boolean;
  readonly sinceMs: number | null;
  readonly nowC: number | null;
  readonly degreeHours: number;
  /** Excused because a visit was logged within the hour. */
  readonly excused: boolean;
}

export interface ChillOutlook {
  /** Minutes until the limit is reached at the present fall; declines when it is not falling. */
  readonly minutesToLimit: Estimate;
  /** Lowest brood temperature expected in the night ahead. */
  readonly tonightMinC: Estimate;
  readonly limitC: number;
  /** Chance that the night's minimum is under the limit, 0..1. */
  readonly chanceBelow: number | null;
  readonly basis: 'own-record' | 'heat-budget' | 'none';
  readonly forecast: 'told' | 'persistence' | 'none';
}
