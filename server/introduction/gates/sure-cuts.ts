/** The open gate's last condition: the chance that a dangerous cell still stands is small enough. */
import { missedCellShare } from '../../biology/figures.ts';
import { startOfDayAfter } from '../calendar.ts';
import { lastOf } from '../effective-facts.ts';
import { livingCells } from '../looks.ts';
import { cellRecord } from '../cell-waves.ts';
import { oneMoreLookAt, standingCells } from '../standing-cells.ts';
import type { IntroductionState } from '../state.ts';
import type { MissRate } from '../setup.ts';
import { cite, holds, waits, type Bar, type GateEvidence, type OneMoreLook, type Reason } from './gate.ts';

const defaultChanceLimit = 0.05;

const percent = (share: number): string =>
  share < 0.005 ? 'under 1 %' : `${(100 * share).toFixed(share < 0.1 ? 1 : 0)} %`;

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

export interface SureCuts {
  readonly bar: Bar;
  readonly chance: number;
  readonly oneMoreLook: OneMoreLook | null;
  /** No look for cells settles it, a test frame does. */
  readonly testFrame?: boolean;
}

/** Null before the second late look: until then the dates decide. */
export function cutsAreSure(
  state: IntroductionState,
  evidence: GateEvidence,
  nowMs: number,
): SureCuts | null {
  const last = lastOf(state.looks.complete);
  if (!last || state.looks.second === null) return null;
  const limit = evidence.chanceLimit === undefined ? defaultChanceLimit : evidence.chanceLimit;
  const record = cellRecord(state);
  const { chance } = standingCells(record);
  const figure = missFigure(state.setup.missRate);
  const found = `the last look found ${String(livingCells(last))}`;
  if (limit === null) {
    const text =
      `Chance that a dangerous cell was missed: ${percent(chance)} (${found}). ` +
      'Which chance is small enough can’t be read from the settings (standingCellLimit): put it right first.';
    return { bar: waits('Put the setting right first', text, undefined, figure), chance, oneMoreLook: null };
  }
  if (chance <= limit) {
    return {
      bar: holds(`Chance that a dangerous cell was missed: ${percent(chance)} (${found}).`, figure),
      chance,
      oneMoreLook: null,
    };
  }
  const fromMs = startOfDayAfter(last.atMs, 1, state.setup.timeZone);
  const ahead = oneMoreLookAt(Math.max(fromMs, nowMs), record);
  const oneMoreLook: OneMoreLook = {
    fromMs,
    untilMs: state.windows.virginPossible?.untilMs ?? null,
    chanceNow: chance,
    chanceIfNothingFound: ahead.chanceIfNothingFound,
    chanceOfFinding: ahead.chanceOfFinding,
  };
  const swarmCells = state.split?.cellsAlreadyThere === 'present-and-removed';
  const swarm = swarmCells
    ? ' Swarm cells stood at the split, and taking them out misses some, as every look does.'
    : '';
  const over = `Chance that a dangerous cell was missed: ${percent(chance)} (${found}); over ${percent(limit)}.${swarm} `;
  const then = percent(ahead.chanceIfNothingFound);
  // The virgin of a swarm cell may be out by now: no look for cells finds her, a test frame tells.
  if (swarmCells && ahead.chanceIfNothingFound > limit) {
    const text = `${over}One more look on every frame brings it only to ${then} when it finds nothing: a test frame tells whether a virgin is out.`;
    return {
      bar: waits('A test frame first', text, undefined, figure),
      chance,
      oneMoreLook: null,
      testFrame: true,
    };
  }
  const text = `${over}One more look on every frame brings it to ${then} when it finds nothing.`;
  return {
    bar: waits('One more look first', text, nowMs < fromMs ? fromMs : undefined, figure),
    chance,
    oneMoreLook,
  };
}
