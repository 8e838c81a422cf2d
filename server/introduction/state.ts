/**
 * The state of an introduction: a pure fold over its log. Nothing is stored but the log, so the state at
 * any past instant can be worked out again.
 */
import { developmentMs } from '../biology/duration.ts';
import { rearableLimitDays, secondLookAfterDays, highEnd, lowEnd } from '../biology/figures.ts';
import { broodNow, type BroodNow } from './brood/brood-now.ts';
import { dayNumber } from './calendar.ts';
import { lastEggBefore } from './cells/cell-waves.ts';
import { queenContradictions, type Contradiction } from './log/contradictions.ts';
import { effectiveFacts, lastOf, ofKind, type EffectiveFact } from './log/effective-facts.ts';
import { gatherEvidence, type Evidence } from './brood/evidence.ts';
import { lossOf, withReplacedQueen } from './log/loss.ts';
import { foragersStay } from './log/move-distance.ts';
import { rivalSeen } from './cells/rival-seen.ts';
import type { FactPayload, IntroductionMethod, LogEntry } from './log/facts.ts';
import { cellLooks, cellsLeftStanding, leavesNoCell, livingCells, type CellLook } from './log/looks.ts';
import { foldQueen } from './queen/queen.ts';
import { noEggsForTwoWeeks, type QueenState } from './queen/queen-state.ts';
import type { IntroductionSetup } from './log/setup.ts';
import { foldSigns, type Signs } from './log/signs.ts';
import { stageOf, type Stage } from './stage.ts';
import { testFrames, type TestFrame } from './log/test-frames.ts';
import { virginRiskOf, type VirginRisk } from './cells/virgin-risk.ts';
import { deriveWindows, type Windows } from './brood/windows.ts';

export type { IntroductionSetup } from './log/setup.ts';

type SplitMade = Extract<FactPayload, { kind: 'split-made' }>;
type Outcome = Extract<FactPayload, { kind: 'outcome' }>['outcome'];

/** The looks that count towards opening the candy. */
export interface LooksDone {
  readonly all: readonly CellLook[];
  /** After these no cell stood, as far as they can tell. */
  readonly complete: readonly CellLook[];
  /** Complete, and late enough that nothing can have been started after them but a straggler. */
  readonly late: readonly CellLook[];
  /** The first late cut, whole or in part. */
  readonly firstLate: CellLook | null;
  /** The last late look, some days or more after the first late one. */
  readonly second: CellLook | null;
  /** The first of those: from then on the cells were looked through twice. */
  readonly firstSecond: CellLook | null;
  /** Living cells that somebody saw and left. */
  readonly leftStanding: CellLook | null;
}

export interface IntroductionState {
  readonly setup: IntroductionSetup;
  readonly nowMs: number;
  /** Effective facts up to now, in the order in which they happened. */
  readonly facts: readonly EffectiveFact[];
  readonly stage: Stage;
  readonly split: (SplitMade & { readonly atMs: number }) | null;
  /** Where day 0 is: the split, or the first fact of an introduction without one. */
  readonly day0Ms: number | null;
  readonly dayNumber: number | null;
  readonly evidence: Evidence;
  readonly windows: Windows;
  readonly virgin: VirginRisk;
  readonly looks: LooksDone;
  /** No cell stands and none can be started: it was so when it was found, and no young brood has come since. */
  readonly hopeless: boolean;
  readonly testFrames: readonly TestFrame[];
  readonly broodNow: BroodNow;
  readonly queen: QueenState;
  readonly signs: Signs;
  readonly contradictions: readonly Contradiction[];
  readonly outcome: { readonly outcome: Outcome; readonly atMs: number } | null;
  readonly lastVisitAtMs: number | null;
}

function sortLooks(
  facts: readonly EffectiveFact[],
  windows: Windows,
  timeZone: string,
  releasedAtMs: number | null,
): LooksDone {
  const looks = cellLooks(facts);
  const complete = looks.filter(leavesNoCell);
  const { lateCutFromMs, nothingRearableFromMs } = windows;
  const late = lateCutFromMs === null ? [] : complete.filter((look) => look.atMs >= lateCutFromMs);
  const firstLate =
    (lateCutFromMs !== null &&
      looks.find(
        (look) => look.atMs >= lateCutFromMs && (leavesNoCell(look) || (look.cut && !look.glance)),
      )) ||
    null;
  const apart = lowEnd(secondLookAfterDays);
  const seconds = late.filter(
    (look) =>
      firstLate !== null &&
      dayNumber(firstLate.atMs, look.atMs, timeZone) >= apart &&
      look.atMs >= (nothingRearableFromMs ?? Infinity),
  );
  return {
    all: looks,
    complete,
    late,
    firstLate,
    second: lastOf(seconds) ?? null,
    firstSecond: seconds[0] ?? null,
    leftStanding: cellsLeftStanding(looks, facts, releasedAtMs) ?? null,
  };
}

const isVisit = ({ fact }: EffectiveFact): boolean => visits.has(fact.kind);

const visits: ReadonlySet<FactPayload['kind']> = new Set([
  'split-made',
  'moved',
  'inspection',
  'cells-cut',
  'brood-frame-added',
  'brood-frame-taken',
  'fed',
  'cage-hung',
  'cage-checked',
  'cage-taken-out',
  'queen-removed',
  'queen-escaped',
  'candy-opened',
  'looked-for-queen',
  'balled',
  'grafted',
]);

/** What follows from the facts alone, whatever the time is: it holds until another fact counts. */
interface Derived {
  readonly stays: Omit<IntroductionState, 'nowMs' | 'stage' | 'dayNumber' | 'virgin' | 'broodNow'>;
  readonly virginAt: (nowMs: number) => VirginRisk;
}

/** Where day 0 is: the split, the old queen taken out, or the first fact where neither comes first. */
function dayZero(setup: IntroductionSetup, facts: readonly EffectiveFact[]): number | null {
  const loss = lossOf(facts);
  const splitMeant =
    setup.startingPoint === 'planned-split' ||
    (setup.startingPoint === 'own-laying-queen' &&
      setup.plannedSplitMs !== undefined &&
      !facts.some(isVisit));
  if (splitMeant) return ofKind(facts, 'split-made')[0]?.atMs ?? null;
  if (setup.startingPoint === 'requeened-in-place') return loss?.atMs ?? null;
  return ofKind(facts, 'split-made')[0]?.atMs ?? facts[0]?.atMs ?? setup.openedAtMs;
}

/** No larva was young enough when it was found, or split off; none came since, and no living cell was ever seen. */
function isHopeless({
  setup,
  facts,
  evidence,
  looks,
  day0Ms,
}: Pick<IntroductionState, 'setup' | 'facts' | 'evidence' | 'looks' | 'day0Ms'>): boolean {
  const found = setup.startingPoint === 'hopelessly-queenless' && ofKind(facts, 'split-made').length === 0;
  if (!found && !evidence.withoutBrood) return false;
  const eggMs = lastEggBefore(Infinity, { evidence, facts });
  const larvae = eggMs !== null && eggMs + developmentMs(highEnd(rearableLimitDays)) > (day0Ms ?? Infinity);
  return !larvae && looks.all.every((look) => livingCells(look) === 0);
}

/** How she is let out: by the candy where that was opened, whatever the set-up says since. */
function methodOf({ method }: IntroductionSetup, facts: readonly EffectiveFact[]): IntroductionMethod {
  const hung = facts.findLastIndex(({ fact }) => fact.kind === 'cage-hung');
  const out = facts.find(
    ({ fact }, i) => i > hung && (fact.kind === 'candy-opened' || fact.kind === 'cage-taken-out'),
  );
  return out?.fact.kind === 'candy-opened' ? 'candy-cage' : method;
}

function derive(given: IntroductionSetup, facts: readonly EffectiveFact[]): Derived {
  const setup = { ...given, method: methodOf(given, facts) };
  const queen = foldQueen(facts, setup.method);
  const evidence = gatherEvidence(setup, facts, queen);
  const foundHopeless = setup.startingPoint === 'hopelessly-queenless';
  const windows = deriveWindows(
    evidence.lastFertileEgg,
    evidence.queenlessSince,
    setup.timeZone,
    evidence.likelyLastEggMs,
    foundHopeless ? (facts[0]?.atMs ?? setup.openedAtMs) : null,
  );
  const looks = sortLooks(facts, windows, setup.timeZone, queen.releasedAtMs);
  const split = ofKind(facts, 'split-made')[0];
  const outcome = lastOf(ofKind(facts, 'outcome'));
  const day0Ms = dayZero(setup, facts);
  const stays = {
    setup,
    facts,
    split: split ? { ...split.fact, atMs: split.atMs } : null,
    day0Ms,
    evidence,
    windows,
    looks,
    hopeless: isHopeless({ setup, facts, evidence, looks, day0Ms }),
    testFrames: testFrames(facts),
    queen,
    signs: foldSigns(facts, {
      carried: setup.carried?.signs,
      watchFromMs: windows.layingWorkersWatchFromMs,
      releasedAtMs: queen.releasedAtMs,
    }),
    contradictions: [...evidence.contradictions, ...queenContradictions(facts)],
    outcome: outcome ? { outcome: outcome.fact.outcome, atMs: outcome.atMs } : null,
    lastVisitAtMs: lastOf(facts.filter(isVisit))?.atMs ?? null,
  };
  return { stays, virginAt: virginRiskOf(stays) };
}

interface Folded {
  readonly setup: IntroductionSetup;
  /** Entries of the log by then: to a list that grows in place it is no answer. */
  readonly entries: number;
  readonly facts: readonly EffectiveFact[];
  /** By how many of the facts have happened. */
  readonly derived: Map<number, Derived>;
}

/** The same log is folded at one instant after another, and a fact counts once in days. Goes with the log that it is of. */
const foldedLogs = new WeakMap<readonly LogEntry[], Folded>();

function foldedLog(setup: IntroductionSetup, log: readonly LogEntry[]): Folded {
  const known = foldedLogs.get(log);
  if (known?.setup === setup && known.entries === log.length) return known;
  const facts = withReplacedQueen(setup, effectiveFacts(setup.id, log, Infinity));
  const folded = { setup, entries: log.length, facts, derived: new Map<number, Derived>() };
  foldedLogs.set(log, folded);
  return folded;
}

/**
 * What speaks against her since she was let out: a virgin, a cell that was left, drone brood, no eggs for two weeks, or
 * nothing of her at the last look.
 */
function inDoubt(stays: Derived['stays']): boolean {
  const { queen, looks, signs } = stays;
  const sinceMs = queen.releasedAtMs ?? Infinity;
  const droneMs = signs.layingWorkers?.atMs ?? -Infinity;
  const provedMs = queen.sealedWorkerBroodAtMs ?? -Infinity;
  if (rivalSeen(stays) || noEggsForTwoWeeks(stays) || queen.notFoundAtMs.length > 0) return true;
  return (looks.leftStanding?.atMs ?? -Infinity) > sinceMs || (droneMs >= sinceMs && droneMs >= provedMs);
}

/**
 * Folds the log of one introduction into its state at `nowMs`. `log` may hold other introductions' entries
 * too, and must where a correction moved a fact here. Facts that happen after `nowMs` are left out.
 */
export function foldIntroduction(
  setup: IntroductionSetup,
  log: readonly LogEntry[],
  nowMs: number,
): IntroductionState {
  const { facts, derived } = foldedLog(setup, log);
  const happened = facts.filter((fact) => fact.atMs <= nowMs);
  let known = derived.get(happened.length);
  if (!known) derived.set(happened.length, (known = derive(setup, happened)));
  const { virginAt, stays } = known;
  const { queen, looks, day0Ms, windows, outcome, split } = stays;
  return {
    nowMs,
    stage: stageOf({
      startedAtMs: day0Ms,
      queen,
      lateLooks: looks.firstLate ? Math.max(1, looks.late.length) : 0,
      twoLateLooks: looks.second !== null || (stays.hopeless && looks.complete.length > 0),
      anyCut: looks.all.some((look) => look.cut),
      splitMade: split !== null && !foragersStay(happened),
      inDoubt: inDoubt(known.stays),
      outcome: outcome?.outcome ?? null,
      method: stays.setup.method,
      timeZone: setup.timeZone,
      nowMs,
    }),
    dayNumber: day0Ms === null ? null : dayNumber(day0Ms, nowMs, setup.timeZone),
    virgin: virginAt(nowMs),
    broodNow: broodNow(windows, queen, nowMs),
    ...stays,
  };
}
