/**
 * Everything that a rule may look at, as plain data gathered by whoever runs the rules. Instants are ms
 * since 1970 UTC. What is absent is null or an empty list, never a made-up value.
 */
import type { Estimate, NucSignals } from '../../signals/types.ts';
import type { FigureUnit, Sentence } from '../../words/phrase.ts';
import type { Place, Subject } from './types.ts';

/** How one channel has been doing, learned from its own rhythm. */
export interface ChannelHealth {
  readonly channelId: number;
  /** The device's own name. */
  readonly sensor: string;
  readonly quantity: 'weight' | 'temperature' | 'humidity' | 'battery' | 'rain';
  readonly place: Place | null;
  /** Last message, kept over restarts; null where it was never heard. */
  readonly lastHeardMs: number | null;
  /** Its usual interval; null until enough was heard to know. */
  readonly expectedIntervalMs: number | null;
  readonly lastValue: number | null;
  /** Since when the value has not moved by a digit. */
  readonly unchangedSinceMs: number | null;
  /** A scale's smallest step, g; absent where it was never seen to change. */
  readonly stepG?: number;
  /** Readings of the last 24 hours, and how many of them were flagged as suspect. */
  readonly readings24h: number;
  readonly suspects24h: number;
  /** Those of them whose time can't be. */
  readonly wrongClocks24h?: number;
  /** Since then all that it sends is old: the newest tells of that instant. Absent where it tells of the present. */
  readonly behind?: { readonly sinceMs: number; readonly tellsOfMs: number };
  /** Of an outside probe: lowest and highest of each of the last five full days and of today; absent unless all were read. */
  readonly outsideDays?: readonly { readonly lowC: number; readonly highC: number }[];
  /** Battery of the device, where it tells one: per cent now and its trend. */
  readonly batteryPercent: number | null;
  readonly batteryPercentPerDay: number | null;
}

/** Where an introduction stands, as far as rules read it. */
export interface StageFacts {
  readonly stage: 'planned' | 'queenless' | 'caged' | 'hands-off' | 'check-due' | 'laying' | 'over';
  /** In a keeper's words, such as "caged, day 8". */
  readonly words: string;
  readonly splitAtMs: number | null;
  readonly queenlessSinceMs: number | null;
  /** A queen is shut in a cage in this nuc, since then. */
  readonly queenCagedSinceMs: number | null;
  /** She came then, caged; absent where it is not logged. */
  readonly queenArrivedMs?: number;
  /** Days in her cage before she came; absent where nobody logged them. */
  readonly daysInPost?: number;
  readonly candyOpenedAtMs: number | null;
  /** She is logged as dead, and no other has come; absent else. */
  readonly queenDead?: true;
  /** The first moment at which the nuc may be opened again. */
  readonly handsOffUntilMs: number | null;
  /** May a virgin be loose, from when on (null: not known), why, and what would settle it? */
  readonly virgin: {
    readonly loose: 'excluded' | 'possible' | 'seen';
    readonly possibleFromMs: number | null;
    readonly why: string;
    readonly settledBy: string | null;
  } | null;
  /** The last search for cells that left no frame and no bees unlooked at, and no cell standing. */
  readonly completeCutAtMs: number | null;
  readonly layingWorkersWatchMs: number | null;
  readonly layingWorkersLikelyMs: number | null;
  /** Their signs were logged, and stand; absent where none were. */
  readonly layingWorkersSeen?: true;
  /** The last look that would have shown their signs, and showed none; null or absent where there was none. */
  readonly lookedForLayingWorkersMs?: number | null;
  /** A queen that nobody gave it may be in it; absent where none need be feared. */
  readonly queenMayBeIn?: true;
  readonly mayOpenCandy: 'go' | 'wait' | 'stop' | null;
  /** Adults in the nuc today. */
  readonly bees: Estimate;
  /** When the last of the old brood has emerged by the calendar; null or absent where that is not known. */
  readonly oldBroodUntilMs?: number | null;
  /** When the brood becomes another by the calendar: sealed, emerged, or a new queen's. */
  readonly broodChangesAtMs: number | null;
  /** Signs of brood disease were logged then, and are not ruled out; null or absent where none are. */
  readonly diseaseSignsAtMs?: number | null;
}

/** One step of the introduction's plan. */
export interface PlannedVisit {
  readonly id: string;
  readonly kind: string;
  readonly whatToDo: string;
  readonly why?: Sentence;
  readonly earliestMs: number;
  readonly targetMs: number;
  readonly latestMs: number;
  readonly done: boolean;
  /** What forbids it now: the headline of its gate. */
  readonly blockedBy?: string;
}

/** One figure of a nuc against the band of its batch at the same day. */
export interface BatchMeasure {
  readonly name: string;
  readonly unit: FigureUnit;
  readonly value: number;
  readonly low: number;
  readonly high: number;
  /** Days in a row outside of the band. */
  readonly daysOutside: number;
}

interface Common {
  readonly nowMs: number;
  readonly subject: Subject;
  /** IANA zone of the site; the farm's where there is no site. */
  readonly timeZone: string;
}

export interface NucInput extends Common {
  readonly on: 'nuc';
  readonly introduction: StageFacts | null;
  readonly plan: readonly PlannedVisit[];
  readonly signals: NucSignals | null;
  readonly sensors: readonly ChannelHealth[];
  readonly lastVisitAtMs: number | null;
  /** How it compares with the nucs of its batch; null where they are too few. */
  readonly batch: {
    readonly name: string;
    readonly nucs: number;
    readonly measures: readonly BatchMeasure[];
  } | null;
}

export interface ChannelInput extends Common {
  readonly on: 'channel';
  readonly channel: ChannelHealth;
}

/** What comes in one message: a device with all its channels that stand somewhere. */
export interface DeviceInput extends Common {
  readonly on: 'device';
  readonly channels: readonly {
    /** As the keeper knows it, such as "brood probe of Nuc 3". */
    readonly name: string;
    readonly health: ChannelHealth;
  }[];
}

export interface SiteInput extends Common {
  readonly on: 'site';
  readonly sensors: readonly ChannelHealth[];
}

export interface ServerInput extends Common {
  readonly on: 'server';
  readonly startedAtMs: number;
  /** The last time that nobody was looking. */
  readonly down: { readonly fromMs: number; readonly toMs: number } | null;
  readonly brokerAwaySinceMs: number | null;
  readonly disk: {
    readonly freeMB: number;
    readonly writtenPerDayMB: number | null;
    /** The store refused to write, and since when. */
    readonly refusingSinceMs: number | null;
    /** What the store says about it; a locked file needs something else done than a full disk. */
    readonly refusingWhy?: string | null;
  } | null;
}

export type RuleInput = NucInput | DeviceInput | ChannelInput | SiteInput | ServerInput;
