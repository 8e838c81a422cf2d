/** The open gate's last condition: the chance that a dangerous cell still stands is small enough. */
import { developmentMs } from '../../biology/duration.ts';
import {
  highEnd,
  looksForOneCell,
  missedCellShare,
  rivalChanceLimit,
  testFrameDays,
} from '../../biology/figures.ts';
import { startOfDayAfter } from '../calendar.ts';
import { lastOf } from '../log/effective-facts.ts';
import { livingCells } from '../log/looks.ts';
import { cellRecord } from '../cells/cell-waves.ts';
import type { CellRecord } from '../cells/cell-likelihood.ts';
import { oneMoreLookAt, standingCells } from '../cells/standing-cells.ts';
import type { IntroductionState } from '../state.ts';
import type { MissRate } from '../log/setup.ts';
import type { GateEvidence, OneMoreLook } from './gate.ts';
import { chanceInWords, chancesBeside } from '../../words/chance.ts';
import { byTestFrame } from './common-conditions.ts';
import { cite, met, pending, type Condition, type Reason } from './condition.ts';

/** The share that the chance rests on: this farm's own where it was learnt. */
function missFigure(missRate: MissRate | undefined): NonNullable<Reason['figure']> {
  const name = 'share of cells that a look misses';
  if (missRate?.learntFrom === undefined) return cite(name, missedCellShare);
  const { alpha, beta, learntFrom } = missRate;
  return {
    name: `${name} on this farm`,
    value: Math.round((1000 * alpha) / (alpha + beta)) / 1000,
    unit: missedCellShare.unit,
    source: `second looks in ${String(learntFrom)} earlier ${learntFrom === 1 ? 'nuc' : 'nucs'} of this farm, from a wide prior of ${String(missedCellShare.value)}`,
  };
}

/** The chance where a test frame that goes in now has cells, and the look with which it comes out finds nothing. */
function withFrame(record: CellRecord, nowMs: number): number {
  const out = { atMs: nowMs + developmentMs(highEnd(testFrameDays)), cells: 0, emerged: 0 };
  return standingCells({ ...record, looks: [...record.looks, out], noVirginAtMs: nowMs }).chance;
}

/** What to write down of the last look where that alone would bring the chance under the limit; empty where it would not. */
function notWritten(record: CellRecord, limit: number): string {
  const last = record.looks.at(-1);
  if (!last || (last.emerged !== null && last.virginSought !== false)) return '';
  const written = { ...last, emerged: last.emerged ?? 0, virginSought: true };
  const { chance } = standingCells({ ...record, looks: [...record.looks.slice(0, -1), written] });
  return chance <= limit
    ? ` If you looked for emerged cells and a virgin too and found none, correct the entry: then it is ${chanceInWords(chance)}.`
    : '';
}

export interface MissedCells {
  readonly condition: Condition;
  readonly chance: number;
  readonly oneMoreLook: OneMoreLook | null;
  /** Whether one more look then, that finds nothing, is enough; only beside `oneMoreLook`. */
  readonly settledBy?: (atMs: number) => boolean;
  /** No look for cells settles it, a test frame does. */
  readonly testFrame?: boolean;
}

/** The chance after so many looks more, a day apart, that all find nothing. */
function afterMoreLooks(record: CellRecord, fromMs: number, looks: number): number {
  const more = Array.from({ length: looks }, (_, i) => ({
    atMs: fromMs + developmentMs(i),
    cells: 0,
    emerged: 0,
  }));
  return standingCells({ ...record, looks: [...record.looks, ...more] }).chance;
}

/** Null before the looks that count are made: until then the dates decide. Null, too, where there was no brood to build a cell on. */
export function missedCellsCondition(
  state: IntroductionState,
  chanceLimit: GateEvidence['chanceLimit'],
  nowMs: number,
): MissedCells | null {
  const last = lastOf(state.looks.complete);
  if (!last || state.looks.second === null || state.evidence.withoutBrood) return null;
  const limit = chanceLimit === undefined ? rivalChanceLimit.value : chanceLimit;
  const record = cellRecord(state);
  const { chance } = standingCells(record);
  const figure = missFigure(state.setup.missRate);
  const inWords = limit === null ? chanceInWords : chancesBeside(limit);
  const said = `Chance that a dangerous cell was missed: ${inWords(chance)} (the last look found ${String(livingCells(last))})`;
  if (limit === null) {
    const text = `${said}. Which chance is small enough can’t be read from the settings (standingCellLimit): put it right first.`;
    const setting = pending('Put the setting right first', text, { setting: 'standingCellLimit' }, figure);
    return { condition: setting, chance, oneMoreLook: null };
  }
  if (chance <= limit) return { condition: met(`${said}.`, figure), chance, oneMoreLook: null };
  const fromMs = startOfDayAfter(last.atMs, 1, state.setup.timeZone);
  const nextMs = Math.max(fromMs, nowMs);
  const ahead = oneMoreLookAt(nextMs, record);
  const over = `${said}; over ${chanceInWords(limit)}.`;
  const then = inWords(ahead.chanceIfNothingFound);
  const oneLookSettles = ahead.chanceIfNothingFound <= limit;
  // A frame has told that no virgin was loose: the look that goes with it is still to be made.
  const frame = lastOf(state.testFrames);
  const lookGoesWithFrame = frame?.answer === 'no-queen' && (frame.outMs ?? 0) > last.atMs;
  const noLookSettles =
    !oneLookSettles &&
    !lookGoesWithFrame &&
    (withFrame(record, nowMs) <= limit || afterMoreLooks(record, nextMs, looksForOneCell.value) > limit);
  if (noLookSettles) {
    const swarm =
      state.split?.cellsAlreadyThere === 'present-and-removed'
        ? ' Swarm cells stood at the split, and taking them out misses some, as every look does.'
        : '';
    const text = `${over}${swarm} One more look on every frame brings it only to ${then} when it finds nothing: a test frame tells whether a virgin is out.`;
    const condition = pending('A test frame first', text, byTestFrame(state), figure);
    return { condition, chance, oneMoreLook: null, testFrame: true };
  }
  const oneMoreLook: OneMoreLook = {
    fromMs,
    untilMs: state.windows.virginPossible?.untilMs ?? null,
    chanceNow: chance,
    chanceIfNothingFound: ahead.chanceIfNothingFound,
    chanceOfFinding: ahead.chanceOfFinding,
  };
  const text = `${over} One more look on every frame brings it to ${then} when it finds nothing.${notWritten(record, limit)}`;
  return {
    condition: pending(
      'One more look first',
      text,
      nowMs < fromMs ? { first: 'one-more-look', fromMs, untilMs: fromMs } : { first: 'one-more-look' },
      figure,
    ),
    chance,
    oneMoreLook,
    settledBy: (atMs) => oneMoreLookAt(atMs, record).chanceIfNothingFound <= limit,
  };
}
