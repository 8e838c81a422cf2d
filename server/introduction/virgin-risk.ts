/**
 * May a virgin be loose? Two things are carried from look to look: the last instant at which no cell stood
 * (the split itself, or a complete look that cut what it found), and the last instant at which no virgin
 * was loose. A cell takes at least eight days from its start to the virgin, so as long as looks follow
 * each other faster than that, none can have emerged unseen. Where they did not, her cell may have been
 * torn down since, and only a virgin that is found or a test frame settles it.
 */
import { developmentMs } from '../biology/duration.ts';
import { firstVirginDays, rearableLimitDays, shortestCellDays, highEnd, lowEnd } from '../biology/figures.ts';
import { dayNumber } from './calendar.ts';
import { lastOf, ofKind, type EffectiveFact } from './effective-facts.ts';
import type { Evidence } from './evidence.ts';
import { lossOf } from './loss.ts';
import { leavesNoCell, oneVisit, type CellLook } from './looks.ts';
import type { IntroductionSetup } from './setup.ts';
import { testFrames } from './test-frames.ts';

export interface VirginRisk {
  readonly loose: 'excluded' | 'possible' | 'seen';
  /** From this instant on one may be loose; null where it never can (or always could: `loose` says which). */
  readonly possibleFromMs: number | null;
  readonly why: string;
  /** What would settle it, when it is not excluded. */
  readonly settledBy: string | null;
  /** Swarm cells that stood at the split and were not dealt with. */
  readonly cellsFromBefore: boolean;
}

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
    const cameOutWhole = fact.asTestFrame && frame?.outMs !== null && frame?.answer !== 'too-long';
    if (fact.brood === 'sealed-only' || cameOutWhole) continue;
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
  | { readonly atMs: number; readonly order: number; readonly what: 'removed' };

function events(facts: readonly EffectiveFact[], looks: readonly CellLook[]): readonly Event[] {
  const list: Event[] = looks.map((look) => ({ atMs: look.atMs, order: 0, what: 'look', look }));
  for (const frame of testFrames(facts)) {
    if (frame.answer === 'no-queen') list.push({ atMs: frame.inMs + oneVisit, order: 1, what: 'test' });
  }
  for (const { atMs, fact } of ofKind(facts, 'queen-removed')) {
    if (fact.which !== 'old-queen') list.push({ atMs: atMs + oneVisit, order: 1, what: 'removed' });
  }
  return list.sort((a, b) => a.atMs - b.atMs || a.order - b.order);
}

const noneOut = { seen: false, shells: 0, hanging: 0, taken: 0 };

/** What stood when the bees were left without a queen. */
function startOfChain(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  looks: readonly CellLook[],
): Chain {
  const loss = lossOf(facts);
  if (!loss) {
    return { ...noneOut, cellFreeMs: null, virginFreeMs: null, why: 'how old the cells are is not known' };
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
      chain.why = 'the look came after the day on which a virgin may first have emerged';
    }
  }
  if (leavesNoCell(look)) chain.cellFreeMs = look.atMs;
}

/** As many virgins may be out as emerged shells were found: taking one away settles one. */
function afterRemoval(chain: Chain, atMs: number): void {
  chain.taken += 1;
  const left = chain.shells - chain.taken;
  chain.seen = false;
  if (left > 0) {
    chain.virginFreeMs = null;
    chain.why = `${String(chain.shells)} emerged cells were found, ${String(chain.taken)} taken away: ${String(left)} more ${left === 1 ? 'virgin' : 'virgins'} may be out`;
  } else if (chain.cellFreeMs !== null) Object.assign(chain, noneOut, { virginFreeMs: atMs });
}

/** The risk at any instant at which no other fact than these has happened. */
export function virginRiskOf(
  setup: IntroductionSetup,
  facts: readonly EffectiveFact[],
  looks: readonly CellLook[],
  eggs: LastEggs,
): (nowMs: number) => VirginRisk {
  const spans = rearableSpans(facts, eggs);
  const chain = startOfChain(setup, facts, looks);
  const cellsFromBefore = chain.cellFreeMs === null;
  for (const event of events(facts, looks)) {
    if (event.what === 'look') afterLook(chain, event.look, spans);
    else if (event.what === 'removed') afterRemoval(chain, event.atMs);
    else if (chain.cellFreeMs !== null) Object.assign(chain, noneOut, { virginFreeMs: event.atMs });
  }
  const { cellFreeMs, virginFreeMs } = chain;
  const from = virginFreeMs === null || cellFreeMs === null ? null : earliestEmergence(cellFreeMs, spans);
  const settledBy = 'a virgin that is found, or a test frame with eggs and young larvae for two days';
  if (from === null) {
    const loose = chain.seen ? 'seen' : 'possible';
    return () => ({ loose, possibleFromMs: null, why: chain.why, settledBy, cellsFromBefore });
  }
  const possibleFromMs = Number.isFinite(from) ? from : null;
  return (nowMs) =>
    nowMs < from
      ? {
          loose: 'excluded',
          possibleFromMs,
          why: 'no cell can have been started and emerged between the looks',
          settledBy: null,
          cellsFromBefore,
        }
      : {
          loose: 'possible',
          possibleFromMs,
          why: 'a cell started since the last complete look may have emerged',
          settledBy,
          cellsFromBefore,
        };
}
