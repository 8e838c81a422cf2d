/**
 * What the signals room takes and what it gives back. All instants are ms since 1970 UTC, masses are
 * grams, temperatures degrees Celsius, rates say their unit in their name.
 */
import type { Sentence } from '../words/phrase.ts';

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
  /** Median change of the settled hives that stand on scales at the same place, g, where there are three or more. */
  readonly settledG?: Series;
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

/** The coldest of the night ahead as somebody else foresees it. */
export interface Forecast {
  readonly minC: number;
  /** End of the span that the minimum is for. */
  readonly byMs: number;
  /** When it was made. */
  readonly saidAtMs?: number;
  /** Who told it, in words for the keeper. */
  readonly source: string;
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
      readonly restsOn: readonly Sentence[];
    }
  | { readonly ok: false; readonly why: Sentence };

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

/**
 * `loaded`: something lay on the closed box for a moment: a cat, an arm. `zeroed`: nothing weighs on the scale, and the nest is
 * where it was: the scale lost its zero.
 */
export type StepKind =
  | 'opened'
  | 'loaded'
  | 'added'
  | 'taken'
  | 'fed'
  | 'lifted'
  | 'toppled'
  | 'gone'
  | 'zeroed'
  | 'unexplained';

export interface WeightStep {
  /** Last steady reading before it. */
  readonly atMs: number;
  /** First steady reading after it; hours later where a gap hides the moment. */
  readonly untilMs?: number;
  readonly sizeG: number;
  readonly sizeSdG: number;
  readonly kind: StepKind;
  /** What lay on a `loaded` box. */
  readonly loadG?: number;
  /** The logged event that it goes with, if any. */
  readonly explainedBy?: KnownEvent;
}

export interface ForagerDrift {
  /** *Gone* from nineteen in twenty on, and four in five for sure. The band under it: a fit that moves a little takes nothing back that was told. */
  readonly state: 'no-flying-weather' | 'leaving' | 'nearly-gone' | 'gone' | 'cannot-tell';
  readonly why: Sentence;
  /** They stay: it was moved too far for them to fly home. */
  readonly stay?: true;
  readonly massG: Estimate;
  readonly bees: Estimate;
  /** Share of those who will leave that has left, 0..1. */
  readonly completeness: Estimate;
  /** The same share as the flying weather alone tells it, without a look at the scale. */
  readonly byWeather: Estimate;
  readonly flightHours: number;
  readonly flyingDays: number;
  /** The move that the loss is told from; null where nothing can be told. */
  readonly sinceMs: number | null;
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
  /** When `nowC` was read: a reading of hours ago says nothing about now. */
  readonly nowAtMs: number | null;
  readonly degreeHours: number;
  /** Excused because a visit was logged within the hour. */
  readonly excused: boolean;
}

export interface ChillOutlook {
  /** Minutes until the limit is reached at the present fall; declines when it is not falling. */
  readonly minutesToLimit: Estimate;
  /** The fall was looked at over hours, as the sensor reads less often than every 22 minutes. */
  readonly readsSeldom?: boolean;
  /** What the falls of this nest came to in its last days; absent where nothing is foreseen. */
  readonly falls?: 'go-on' | 'turn' | 'not-known';
  /** Lowest brood temperature expected in the night ahead. */
  readonly tonightMinC: Estimate;
  readonly limitC: number;
  /** Chance that the night's minimum is under the limit, 0..1. */
  readonly chanceBelow: number | null;
  /** The same for a nuc of usual strength, where neither its bees nor enough of its own nights are known; else null. */
  readonly chanceOfUsual: number | null;
  readonly basis: 'own-record' | 'heat-budget' | 'none';
  readonly forecast: 'told' | 'persistence' | 'none';
  /** Dusk and dawn of the night that it is about. */
  readonly nightBeginsMs: number;
  readonly nightEndsMs: number;
}

/** One day on the scale, read the way a keeper reads the curve. Instants are null where the day does not show them. */
export interface WithinDay {
  /** Local calendar date, YYYY-MM-DD. */
  readonly date: string;
  /** First instant of the morning at which the smoothed weight is clearly under the night's line. */
  readonly departureAtMs: number | null;
  readonly minimumAtMs: number | null;
  /** How far the minimum lies under the night's line, g. */
  readonly depthG: number | null;
  /** Evening maximum: the last bees are home. */
  readonly eveningAtMs: number | null;
  /** Evening maximum less the level before the departure, steps taken out, g. */
  readonly netG: number | null;
  /** Share of the daylight that readings cover, 0..1. */
  readonly coverage: number;
}

/** A fall of weight in daylight: bees that left together. */
export interface MassDeparture {
  readonly fromMs: number;
  readonly toMs: number;
  readonly lossG: number;
  readonly lossSdG: number;
  /** Whether the brood temperature fell in the hours after; null where it was not measured. */
  readonly temperatureFollowed: boolean | null;
  /** Too fast for this scale to tell it from a hand that takes something out: told only where the brood cooled far after it. */
  readonly likeAHand?: true;
  /** So large a part of the bees that they can't be foragers who come home. */
  readonly moreThanFly?: true;
  /** Dusk after it: foragers that were only out are home by then. Null where the readings end before it is known. */
  readonly homeByMs: number | null;
  readonly why: Sentence;
}

/** Fast loss by daylight, day after day, that did not come home at dusk. */
export interface Robbing {
  readonly days: readonly { readonly date: string; readonly lossG: number; readonly fastestGPerH: number }[];
  /** Under way on the newest full day, or today so far. */
  readonly underWay: boolean;
  /** The newest of them alone took more than bees can be. */
  readonly carriedOff?: true;
  readonly why: Sentence;
}

/** Does the nest steady after release as it does when a queen lays? */
export interface Regulation {
  readonly state: 'agreeing' | 'not-agreeing' | 'too-early' | 'cannot-tell';
  readonly why: Sentence;
  /** Whole days since release. */
  readonly daysSinceRelease: number | null;
  /** The days that it rests on. */
  readonly days: readonly BroodDay[];
  /** First day of the run of steady days, if there is one. */
  readonly steadySince: string | null;
}

/** One day of the brood probe. */
export interface BroodDay {
  readonly date: string;
  readonly medianC: number;
  readonly minC: number;
  readonly maxC: number;
  /** p90 less p10 over the day. */
  readonly spreadC: number;
  readonly shareInBand: number;
  /** Share of the day that readings cover, 0..1. */
  readonly coverage: number;
}

/** A brood nest that was regulated and no longer is, day after day, while its sensor goes on reporting. */
export interface ColonyFailing {
  readonly state: 'no' | 'failing' | 'cannot-tell';
  /** First of the days without regulation. */
  readonly since: string | null;
  readonly why: Sentence;
}

/** A sudden move of the brood temperature that goes with a visit: the probe lies elsewhere since. */
export interface ProbeJump {
  readonly atMs: number;
  readonly fromC: number;
  readonly toC: number;
  readonly explainedBy: KnownEvent | null;
}

/** Whether the brood probe reads the nest: cold that no cold explains is a probe elsewhere, or bees that are gone. */
export interface ProbePlace {
  readonly state: 'in-nest' | 'unclear' | 'slipped' | 'cannot-tell';
  /** First cold reading that is in doubt. */
  readonly sinceMs: number | null;
  readonly how: 'sudden' | 'held-more' | 'never-warm' | 'long' | null;
  /** Doubts of the last days that have ended, the last one last: what was read in them is no record of this nest. */
  readonly doubts: readonly { readonly fromMs: number; readonly toMs: number }[];
  /** The visit that ended the last of them: the probe was warm soon after. Null where none did. */
  readonly putBackMs: number | null;
  readonly why: Sentence;
}

/** The weather at a nuc; null where no sensor told it within two hours. */
export interface OutsideNow {
  readonly temperatureC: number | null;
  /** It rained within the last quarter of an hour. */
  readonly rained: boolean | null;
}

/** Everything that the readings of one nuc say at one instant. */
export interface NucSignals {
  readonly nowMs: number;
  readonly outsideNow: OutsideNow;
  readonly nightWeights: readonly NightWeight[];
  readonly steps: readonly WeightStep[];
  readonly drift: ForagerDrift;
  readonly daily: readonly WithinDay[];
  /** Days that the stores last at the present rate. */
  readonly stores: Estimate;
  /** Stores by weight: gross less tare, bees and brood, g. */
  readonly storesG: Estimate;
  /** What the nuc loses in a day at the present, g. */
  readonly consumptionGPerDay: Estimate;
  readonly massDepartures: readonly MassDeparture[];
  readonly robbing: Robbing;
  readonly brood: BroodTemperature;
  readonly broodDays: readonly BroodDay[];
  readonly doses: readonly ThermalDose[];
  readonly outlook: ChillOutlook;
  readonly regulation: Regulation;
  readonly failing: ColonyFailing;
  readonly probeJumps: readonly ProbeJump[];
  readonly probePlace: ProbePlace;
  /** Drift of the scale with temperature as fitted on this nuc's nights, g/K. */
  readonly scaleTemperature: Estimate;
}
