/**
 * May a virgin be loose? Two things are carried from look to look: the last instant at which no cell stood
 * (the split itself, or a complete look that cut what it found), and the last instant at which no virgin
 * was loose. A cell takes at least eight days from its start to the virgin, so as long as looks follow
 * each other faster than that, none can have emerged unseen. Where they did not, the chance that one did decides
 * (`standing-cells.ts`); above the limit only a virgin that is found or a test frame settles it.
 */
import { developmentMs } from '../../biology/duration.ts';
import {
  firstVirginDays,
  rearableLimitDays,
  rivalChanceLimit,
  shortestCellDays,
  highEnd,
  lowEnd,
} from '../../biology/figures.ts';
import { chanceInWords } from '../../words/chance.ts';
import { dayNumber } from '../calendar.ts';
import { cellRecord, type CellsKnown } from './cell-waves.ts';
import { lastOf, ofKind, type EffectiveFact } from '../log/effective-facts.ts';
import type { Evidence } from '../brood/evidence.ts';
import { lossOf } from '../log/loss.ts';
import { leavesNoCell, oneVisit, type CellLook } from '../log/looks.ts';
import type { IntroductionSetup } from '../log/setup.ts';
import { standingCells } from './standing-cells.ts';
import { testFrames } from '../log/test-frames.ts';

export interface VirginRisk {
  readonly loose: 'excluded' | 'possible' | 'seen';
  /** From this instant on one may be loose; null where it never can (or always could: `loose` says which). */
  readonly possibleFromMs: number | null;
  readonly why: string;
  /** Chance that one is out which no look can have found as a cell; null where nobody knows how old the cells are. */
  readonly chanceOut: number | null;
  /** What would settle it, when it is not excluded. */
  readonly settledBy: string | null;
  /** Swarm cells that stood at the split and were not dealt with. */
  readonly cellsFromBefore: boolean;
}

/** The chance that one is out is small enough for this keeper, and no date stands from which one may be. */
export const chanceIsSmall = ({ chanceOut, possibleFromMs }: VirginRisk, limit: number): boolean =>
  chanceOut !== null && chanceOut <= limit && possibleFromMs === null;

/** A span in which there are larvae that can be reared. Open ends are infinite. */
interface Rearable {
  readonly fromMs: number;
  readonly untilMs: number;
  /** A colony that has only just lost its queen takes half a day to start. */
  readonly delayMs: number;
}

type LastEggs = Pick<Evidence, 'firstLastEggMs' | 'laterLosses'>;

const rearableFor = developmentMs(highEnd(rearableLimitDays));
const shortest = developmentMs(lowEnd(shortestCellDays));
const firstDelay = developmentMs(lowEnd(firstVirginDays)) - shortest;

/** Larvae of the queen that was lost first. */
function firstSpan(facts: readonly EffectiveFact[], firstLastEggMs: number | null): Rearable {
  const taken = lastOf(ofKind(facts, 'queen-removed').filter(({ fact }) => fact.which === 'old-queen'));
  // She was in it until then, whatever was thought at the split.
  if (taken) return { fromMs: taken.atMs, untilMs: taken.atMs + rearableFor, delayMs: firstDelay };
  const untilMs = firstLastEggMs === null ? Infinity : firstLastEggMs + rearableFor;
  const loss = lossOf(facts);
  return loss?.sure
    ? { fromMs: loss.atMs, untilMs, delayMs: firstDelay }
    : { fromMs: loss?.atMs ?? -Infinity, untilMs, delayMs: 0 };
}

function rearableSpans(
  facts: readonly EffectiveFact[],
  { firstLastEggMs, laterLosses }: LastEggs,
): readonly Rearable[] {
  const spans = [firstSpan(facts, firstLastEggMs)];
  for (const fromMs of laterLosses)
    spans.push({ fromMs, untilMs: fromMs + rearableFor, delayMs: firstDelay });
  const brought = ofKind(facts, 'brood-frame-added');
  const frames = testFrames(facts);
  for (const { atMs, fact } of brought) {
    const frame = frames.find((f) => f.inMs === atMs);
    const cameOutInTime = fact.asTestFrame && (frame?.outMs ?? Infinity) - atMs < shortest;
    if (fact.brood === 'sealed-only' || cameOutInTime) continue;
    spans.push({ fromMs: atMs, untilMs: atMs + rearableFor, delayMs: 0 });
  }
  return spans;
}

/** Earliest instant at which a virgin can emerge from a cell started after `cellFreeMs`. */
function earliestEmergence(cellFreeMs: number, spans: readonly Rearable[]): number {
  const starts = spans
    .filter((span) => span.untilMs > cellFreeMs)
    .map((span) => (span.fromMs >= cellFreeMs ? span.fromMs + span.delayMs : cellFreeMs));
  return Math.min(...starts, Infinity) + shortest;
}

interface Chain {
  cellFreeMs: number | null;
  virginFreeMs: number | null;
  why: string;
  /** The first look that came too late to exclude her by the days alone. */
  brokenAtMs: number | null;
  seen: boolean;
  /** Emerged shells since no virgin was last loose; a cut takes the shells down, a look counts them again. */
  shells: number;
  /** Those that still hung after the last look. */
  hanging: number;
  /** Virgins taken away since then. */
  taken: number;
}

type Event =
  | { readonly atMs: number; readonly order: number; readonly what: 'look'; readonly look: CellLook }
  | { readonly atMs: number; readonly order: number; readonly what: 'test' }
  | { readonly atMs: number; readonly order: number; readonly what: 'removed'; readonly laid: boolean };

function events(facts: readonly EffectiveFact[], looks: readonly CellLook[]): readonly Event[] {
  const list: Event[] = looks.map((look) => ({ atMs: look.atMs, order: 0, what: 'look', look }));
  for (const frame of testFrames(facts)) {
    if (frame.answer === 'no-queen') list.push({ atMs: frame.inMs + oneVisit, order: 1, what: 'test' });
  }
  for (const { atMs, fact } of ofKind(facts, 'queen-removed')) {
    if (fact.which === 'old-queen') continue;
    list.push({ atMs: atMs + oneVisit, order: 1, what: 'removed', laid: fact.which === 'young-queen' });
  }
  return list.sort((a, b) => a.atMs - b.atMs || a.order - b.order);
}

const noneOut = { brokenAtMs: null, seen: false, shells: 0, hanging: 0, taken: 0 };

/** What stood when the bees were left without a queen. */
function startOfChain(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  looks: readonly CellLook[],
): Chain {
  const loss = lossOf(facts);
  if (!loss) {
    const cells = looks.some((look) => Object.values(look.cells).some((count) => count > 0));
    const since = setup.carried
      ? 'it is not known which cells stood when this introduction began'
      : 'it is not known since when it is queenless';
    const why = cells ? 'how old the cells are is not known' : since;
    return { ...noneOut, cellFreeMs: null, virginFreeMs: null, why };
  }
  const { cellsAlreadyThere, atMs } = loss;
  const lookedThatDay = looks.some(
    (look) =>
      leavesNoCell(look) &&
      look.cells.emerged + look.cells.tornDown === 0 &&
      dayNumber(atMs, look.atMs, setup.timeZone) === 0,
  );
  const clean = cellsAlreadyThere === 'none' || cellsAlreadyThere === 'present-and-removed' || lookedThatDay;
  const when = loss.by === 'split' ? 'at the split' : 'when the old queen was taken out';
  const why =
    cellsAlreadyThere === 'present-and-left'
      ? `queen cells stood ${when} and were left`
      : `nobody looked for queen cells ${when}`;
  return clean
    ? { ...noneOut, cellFreeMs: atMs, virginFreeMs: atMs, why: `no queen cell stood ${when}` }
    : { ...noneOut, cellFreeMs: null, virginFreeMs: null, why };
}

function afterLook(chain: Chain, look: CellLook, spans: readonly Rearable[]): void {
  const { emerged } = look.cells;
  chain.shells += Math.max(0, emerged - chain.hanging);
  chain.hanging = look.cut ? 0 : Math.max(chain.hanging, emerged);
  if (look.virginSeen === true || emerged > 0) {
    chain.virginFreeMs = null;
    // One that was seen is not gone because a later look found only the shell that she left.
    chain.seen ||= look.virginSeen === true;
    chain.why = chain.seen ? 'a virgin was seen' : 'an emerged queen cell was found';
  } else if (chain.virginFreeMs !== null && chain.cellFreeMs !== null && look.complete) {
    const emergence = earliestEmergence(chain.cellFreeMs, spans);
    if (look.atMs < emergence) chain.virginFreeMs = look.atMs;
    else {
      chain.virginFreeMs = null;
      chain.brokenAtMs ??= look.atMs;
      chain.why = 'the look came after a virgin may have emerged';
    }
  }
  if (leavesNoCell(look)) chain.cellFreeMs = look.atMs;
}

/** As many virgins may be out as emerged shells were found: taking one away settles one. */
function afterRemoval(chain: Chain, atMs: number, laid: boolean): void {
  chain.taken += 1;
  const left = chain.shells - chain.taken;
  chain.seen = false;
  if (left > 0) {
    chain.virginFreeMs = null;
    chain.why = `${String(chain.shells)} emerged cells were found, ${String(chain.taken)} taken away: ${String(left)} more ${left === 1 ? 'virgin' : 'virgins'} may be out`;
  } else if (chain.cellFreeMs !== null) {
    // While a queen laid here no cell was started: the first follow her loss.
    const cellFreeMs = laid ? Math.max(atMs, chain.cellFreeMs) : chain.cellFreeMs;
    Object.assign(chain, noneOut, { virginFreeMs: atMs, cellFreeMs });
  }
}

/** Null where nobody knows when the first cells were started, or nobody looked. */
function chanceOut(known: CellsKnown, brokenAtMs: number | null): number | null {
  const record = cellRecord(known);
  const atMs = brokenAtMs ?? lastOf(record.looks)?.atMs;
  const loss = lossOf(known.facts);
  if (atMs === undefined || !loss) return null;
  // Cells of before the loss that were torn down: a virgin may have been out before it.
  const tornFromBefore = known.looks.all.some(
    (look) => look.cells.tornDown > 0 && dayNumber(loss.atMs, look.atMs, known.setup.timeZone) === 0,
  );
  if (tornFromBefore && loss.cellsAlreadyThere !== 'none') return null;
  return standingCells(record, atMs).chanceOut;
}

/** Looks that came too late to exclude her by the days alone: the chance tells whether she need be feared. */
function settleByChance(chain: Chain, chance: number): void {
  if (chance <= rivalChanceLimit.value) chain.virginFreeMs = chain.cellFreeMs;
  else chain.why = `${chain.why} (a chance of ${chanceInWords(chance)} that one is out)`;
}

/** The risk at any instant at which no other fact than these has happened. */
export function virginRiskOf(known: CellsKnown): (nowMs: number) => VirginRisk {
  const { setup, facts, evidence } = known;
  const looks = known.looks.all;
  const spans = rearableSpans(facts, evidence);
  const chain = startOfChain(setup, facts, looks);
  const cellsFromBefore = chain.cellFreeMs === null;
  for (const event of events(facts, looks)) {
    if (event.what === 'look') afterLook(chain, event.look, spans);
    else if (event.what === 'removed') afterRemoval(chain, event.atMs, event.laid);
    else if (chain.cellFreeMs !== null) Object.assign(chain, noneOut, { virginFreeMs: event.atMs });
  }
  const rivalSeen = chain.seen || chain.shells > chain.taken;
  const unsettled = chain.virginFreeMs === null && chain.cellFreeMs !== null && !rivalSeen;
  const chance = unsettled ? chanceOut(known, chain.brokenAtMs) : null;
  if (chance !== null) settleByChance(chain, chance);
  const { cellFreeMs, virginFreeMs } = chain;
  const from = virginFreeMs === null || cellFreeMs === null ? null : earliestEmergence(cellFreeMs, spans);
  const settledBy = 'a virgin that is found, or a test frame with eggs and young larvae for two days';
  const common = { chanceOut: chance, cellsFromBefore };
  if (from === null) {
    const loose = chain.seen ? 'seen' : 'possible';
    return () => ({ loose, possibleFromMs: null, why: chain.why, settledBy, ...common });
  }
  const possibleFromMs = Number.isFinite(from) ? from : null;
  const why =
    chance === null
      ? 'no cell can have been started and emerged between the looks'
      : `after the looks the chance that one is out is ${chanceInWords(chance)}`;
  return (nowMs) =>
    nowMs < from
      ? { loose: 'excluded', possibleFromMs, why, settledBy: null, ...common }
      : {
          loose: 'possible',
          possibleFromMs,
          why: 'a cell started since the last complete look may have emerged',
          settledBy,
          ...common,
        };
}
