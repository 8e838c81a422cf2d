/** The brood is cooling and will reach its limit within hours. */
import {
  blindDarkFallKPerH,
  blindFallKPerH,
  blindUnderUsualK,
  timeToActAtMostMinutes,
  timeToActMinutes,
  warmMarginK,
} from '../../../biology/figures.ts';
import { atLeast, atMost, below, holds } from '../../engine/conditions.ts';
import type { ChillOutlook, Estimate } from '../../../signals/types.ts';
import type { AlertMessage, Condition } from '../../engine/types.ts';
import { broodInReach } from './brood-at-stake.ts';
import { foreseenHasCome, helpItKeepWarm } from './foreseen-has-come.ts';
import { isStale, staleMin, usualLowestC } from './thermal-finding.ts';
import { staysShut } from '../introduction-stage.ts';
import { beside, clock, degC, say, type Phrase } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';

/** Setting: chances at which a fall is told, in per cent: false alarms against chills that nobody is told of. */
const chances = { known: 20, seldom: 40, likely: 60, budget: 25, blind: 50 };
/** Setting: half more than the limit, and it is over. */
const easier = 1.5;
/** Setting: a fall that slows down may bring it so much later than its slow end, ms. */
const laterMs = 2 * 3_600_000;

export const chillingAhead = defineRule({
  id: 'chilling-ahead',
  on: 'nuc',
  title: 'Brood is close to chilling',
  about:
    'At its present fall the brood reaches its limit soon, and it is not the wandering of a nest that will hold the night.',
  urgency: 'now',
  holdMin: 10,
  clearHoldMin: 45,
  quietMin: 1080,
  limits: {
    staleMin,
    aheadMin: limit(timeToActMinutes.value, [15, 720], 'min', 'Tell it when the limit is nearer than this'),
    sureAheadMin: limit(
      timeToActAtMostMinutes.value,
      [30, 1440],
      'min',
      'And, at the slow end of the interval, nearer than this',
    ),
    chancePct: limit(
      chances.known,
      [0, 100],
      '%',
      'A fall counts when the night’s chance of chilling is this or more',
    ),
    seldomPct: limit(
      chances.seldom,
      [0, 100],
      '%',
      'The same for a sensor that reads less often than every 22 minutes: a nest that swings looks as if it fell',
    ),
    budgetPct: limit(
      chances.budget,
      [0, 100],
      '%',
      'The same where its own nights are too few to tell the chance by',
    ),
    likelyPct: limit(
      chances.likely,
      [0, 100],
      '%',
      'From this chance a steady fall counts even where only its slow end gets there in time, or where the falls of this nest turn',
    ),
    easierK: limit(1, [0, 5], 'K', 'Degrees over the limit from which it is over'),
    nearK: limit(warmMarginK.value, [0, 5], 'K', 'So near to the limit it is unusual for any nest'),
    blindPct: limit(
      chances.blind,
      [0, 100],
      '%',
      'The same for a nuc of usual strength, where its bees are not known either',
    ),
    blindFallKPerH: limit(
      blindFallKPerH.value,
      [0, 10],
      'K',
      'Fall an hour from which it counts where nothing is known of the night',
    ),
    blindDarkFallKPerH: limit(
      blindDarkFallKPerH.value,
      [0, 10],
      'K',
      'The same in the dark, without an outside temperature',
    ),
    blindUnderUsualK: limit(
      blindUnderUsualK.value,
      [0, 5],
      'K',
      'Without an outside temperature: so far under its usual lowest it is more than its own wandering',
    ),
  },
  sources: ['Newton’s law of cooling fitted to the fall so far'],
  evaluate({ introduction, signals, nowMs }, limits) {
    const { aheadMin, sureAheadMin, easierK, nearK, staleMin: oldest } = limits;
    const brood = broodInReach(introduction, signals);
    if (!brood.ok) return notApplicable(brood.why);
    const { outlook } = brood.signals;
    const { latestC, latestAtMs } = brood.signals.brood;
    if (latestC === null || isStale(latestAtMs, nowMs, oldest)) return noData('no recent brood temperature');
    const notYet = atLeast('Brood still warm enough', latestC, outlook.limitC, '°C');
    if (!notYet.met) return foreseenHasCome(brood, staysShut(introduction), nowMs);
    const toLimit = outlook.minutesToLimit;
    if (!toLimit.ok)
      return {
        verdict: 'no',
        // A fall that rests next to the limit is not over: the next one would be told as new.
        clear: latestC >= outlook.limitC + easierK,
        conditions: [notYet, holds('Cooling towards the limit', false, toLimit.why, 'a steady fall')],
      };
    // The fall has brought it to the limit: a reading a little over it is not ahead of anything.
    if (toLimit.value === 0)
      return {
        verdict: 'no',
        clear: latestC >= outlook.limitC + easierK,
        conditions: [notYet, holds('Some way from the limit', false, 'at the limit', 'minutes at least')],
      };
    const isLikely = (outlook.chanceBelow ?? 0) * 100 >= limits.likelyPct;
    const lowestC = usualLowestC(brood.signals.broodDays);
    const usualC = Math.max(lowestC ?? Infinity, outlook.limitC + nearK);
    const fallKPerH = (latestC - outlook.limitC) / (toLimit.value / 60);
    return decide({
      urgency: toLimit.value > aheadMin ? 'today' : 'now',
      conditions: [
        notYet,
        // Where it rests on its own nights, the chance knows how low this nest goes.
        ...(outlook.basis === 'own-record' || isLikely || knowsNoNight(outlook)
          ? []
          : [below('Colder than this nest’s usual lowest', latestC, usualC, '°C')]),
        atMost('Time to the limit', toLimit.value, isLikely ? sureAheadMin : aheadMin, 'min'),
        atMost('At the slow end of the interval', toLimit.high, sureAheadMin, 'min'),
        ...(knowsNoNight(outlook)
          ? givesWay(outlook, { latestC, lowestC, fallKPerH, isDark: nowMs >= outlook.nightBeginsMs }, limits)
          : isNoWandering(outlook, fallKPerH, limits)),
      ],
      clear: () => !isLikely && toLimit.value > easier * aheadMin,
      message: () => messageOf(latestC, toLimit, outlook.limitC, nowMs, staysShut(introduction), brood.why),
      evidence: { place: 'brood', fromMs: nowMs - 12 * 3_600_000, toMs: nowMs, limit: outlook.limitC },
    });
  },
});

function messageOf(
  latestC: number,
  toLimit: Extract<Estimate, { ok: true }>,
  limitC: number,
  nowMs: number,
  isShut: boolean,
  why: Phrase,
): AlertMessage {
  return {
    ...helpItKeepWarm(isShut),
    byMs: nowMs + toLimit.value * 60_000,
    untilMs: nowMs + toLimit.high * 60_000 + laterMs,
    seen: say`Brood at ${beside(degC(latestC), limitC)} and falling; ${degC(limitC)} would be reached about ${clock(nowMs + toLimit.value * 60_000)}.`,
    why,
    howSure: say`Between ${clock(nowMs + toLimit.low * 60_000)} and ${clock(nowMs + toLimit.high * 60_000)}, if it goes on as it has.`,
    facts: [
      { name: 'At the limit about', ...clock(nowMs + toLimit.value * 60_000) },
      { name: 'Brood', ...beside(degC(latestC), limitC) },
    ],
  };
}

type NightLimits = Readonly<
  Record<'chancePct' | 'seldomPct' | 'likelyPct' | 'budgetPct' | 'blindPct' | 'blindFallKPerH', number>
>;

/** A nest that holds its warmth wanders by a degree, and an hour's worth of that looks like cooling. */
function isNoWandering(
  { chanceBelow, chanceOfUsual, basis, readsSeldom, falls }: ChillOutlook,
  fallKPerH: number,
  { chancePct, seldomPct, likelyPct, budgetPct, blindPct, blindFallKPerH }: NightLimits,
): Condition[] {
  if (chanceBelow !== null) {
    // Whatever the nights before it came to: this nest gives way to the cold now.
    if (falls === 'go-on') return [fallsGoOn(true)];
    const unknownPct = readsSeldom ? Math.max(chancePct, seldomPct) : chancePct;
    const ownPct = falls === 'turn' ? Math.max(unknownPct, likelyPct) : unknownPct;
    const leastPct = basis === 'own-record' ? ownPct : budgetPct;
    return [atLeast('Chance of chilling tonight', chanceBelow * 100, leastPct, '%')];
  }
  // Cold that is not there chills no nest of usual strength.
  return [
    atLeast('Fall an hour, as its own nights are not known', fallKPerH, blindFallKPerH, 'K'),
    atLeast(
      'Chance of chilling, for a nuc of usual strength',
      chanceOfUsual === null ? null : chanceOfUsual * 100,
      blindPct,
      '%',
    ),
  ];
}

/** Neither an outside temperature nor a forecast. */
const knowsNoNight = ({ chanceBelow, chanceOfUsual }: ChillOutlook): boolean =>
  chanceBelow === null && chanceOfUsual === null;

const fallsGoOn = (met: boolean): Condition =>
  holds('The falls of this nest go on', met, met ? 'they do' : 'they turn', 'they do');

interface Fall {
  readonly latestC: number;
  /** Usual lowest of its days. */
  readonly lowestC: number | null;
  readonly fallKPerH: number;
  readonly isDark: boolean;
}

type BlindLimits = Readonly<
  Record<'blindFallKPerH' | 'blindDarkFallKPerH' | 'blindUnderUsualK' | 'nearK', number>
>;

/** Where the cold of the night is not known only the nest tells: what its falls came to, how low it goes on its usual days. */
function givesWay(
  { falls, limitC }: ChillOutlook,
  { latestC, lowestC, fallKPerH, isDark }: Fall,
  { blindFallKPerH, blindDarkFallKPerH, blindUnderUsualK, nearK }: BlindLimits,
): Condition[] {
  if (falls === 'go-on' || falls === 'turn') return [fallsGoOn(falls === 'go-on')];
  const fallsBy = (leastKPerH: number): Condition =>
    atLeast('Fall an hour, as the cold of the night is not known', fallKPerH, leastKPerH, 'K');
  // By day the cold does not go on: what falls then has to fall fast.
  const inTheDarkKPerH = Math.min(blindFallKPerH, blindDarkFallKPerH);
  // A nest without usual days: so near to its limit it is unusual for any.
  if (lowestC === null)
    return [fallsBy(isDark && latestC < limitC + nearK ? inTheDarkKPerH : blindFallKPerH)];
  return [
    fallsBy(isDark ? inTheDarkKPerH : blindFallKPerH),
    atMost('Well under this nest’s usual lowest', latestC, lowestC - blindUnderUsualK, '°C'),
  ];
}
