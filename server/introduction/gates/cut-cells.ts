/** May cells be cut now? Late enough that no other can be started, early enough that no virgin is out. */
import { firstCutDay, firstVirginDays, foragersLeaveDays } from '../../biology/figures.ts';
import { startOfDayAfter } from '../calendar.ts';
import { leavesNoCell } from '../looks.ts';
import type { IntroductionState } from '../state.ts';
import { notClosed } from './common-bars.ts';
import { cite, decide, holds, notKnown, waits, type Bar, type Gate, type GateEvidence } from './gate.ts';
import { withOverride } from './override.ts';

/** A last egg without a date was not laid before the split, nor before the youngest brood that was seen. */
function soonestWithoutDate({ evidence, setup, split }: IntroductionState, nowMs: number): Bar | null {
  const figure = cite('day of the first cut', firstCutDay);
  const weekAfter = (atMs: number): number => startOfDayAfter(atMs, firstCutDay.value, setup.timeZone);
  const afterSplit = split ? weekAfter(split.atMs) : -Infinity;
  const { lastEggNotBeforeMs } = evidence;
  const afterBrood = lastEggNotBeforeMs === null ? -Infinity : weekAfter(lastEggNotBeforeMs);
  const soonest = Math.max(afterSplit, afterBrood);
  if (nowMs >= soonest) return null;
  return waits(
    'Too early for the cut that counts',
    afterBrood > afterSplit
      ? 'The last egg has no date, but brood was seen or brought in from which new cells can still be started.'
      : 'The last egg has no date, but the split is not a week old: new cells can still be started.',
    soonest,
    figure,
  );
}

function lateEnough(state: IntroductionState, nowMs: number): Bar {
  const { windows, looks, setup } = state;
  const figure = cite('day of the first cut', firstCutDay);
  // Cells that were seen since and left standing may be cut the same day.
  const lastCut = looks.leftStanding ? undefined : looks.all.findLast(leavesNoCell);
  const dayAfter = lastCut ? startOfDayAfter(lastCut.atMs, 1, setup.timeZone) : -Infinity;
  if (nowMs < dayAfter) {
    return waits(
      'Every frame was looked through today',
      'A second look the same day finds little more: leave it for some days.',
      dayAfter,
    );
  }
  if (setup.startingPoint === 'own-laying-queen') {
    return holds('A laying queen of your own needs every cell cut on the day on which she is let out.');
  }
  if (looks.firstLate) return holds('Cells were cut; another look finds what was missed.');
  const from = windows.lateCutFromMs;
  if (from === null) {
    const bar = soonestWithoutDate(state, nowMs);
    if (bar) return bar;
    return notKnown(
      'The last egg has no date: this cut can’t count as the last one. Log the youngest brood you see.',
    );
  }
  return nowMs >= from
    ? holds('No larva is left that is young enough for a new cell.', figure)
    : waits(
        'Too early for the cut that counts',
        'Larvae are left from which new cells can be started. You may cut before, but it can’t be the last cut.',
        from,
        figure,
      );
}

/** Waiting for foragers ends where a virgin may emerge. */
function foragers(state: IntroductionState, evidence: GateEvidence, nowMs: number): Bar {
  const { foragersGone, flyingDays } = evidence;
  const figure = cite('days until the old bees are gone', foragersLeaveDays);
  const days = flyingDays === undefined ? '' : ` Flying days since the move: ${String(flyingDays)}.`;
  const text = `${foragersGone.text}${days}`;
  if (foragersGone.answer === 'yes') return holds(text, figure);
  // No reason to wait, and none to call it done.
  if (foragersGone.answer === 'nearly') return { reason: { ok: false, text, figure } };
  if (foragersGone.answer === 'cannot-tell') return notKnown(text);
  const virginFrom = state.windows.virginPossible?.fromMs ?? Infinity;
  const tomorrow = startOfDayAfter(nowMs, 1, state.setup.timeZone);
  if (state.looks.firstLate || tomorrow >= virginFrom) {
    return { reason: { ok: false, text: `${text} The cut can’t wait for them any longer.`, figure } };
  }
  return waits('The foragers are still leaving', text, tomorrow, figure);
}

function earlyEnough({ virgin, windows }: IntroductionState, nowMs: number): Bar {
  const figure = cite('days to the first virgin', firstVirginDays);
  const from = windows.virginPossible?.fromMs ?? null;
  if (virgin.loose === 'excluded' && (virgin.possibleFromMs === null || nowMs < virgin.possibleFromMs)) {
    return holds('No virgin can have emerged yet.', figure);
  }
  const text =
    from !== null && nowMs < from
      ? `A virgin may be in the box: ${virgin.why}.`
      : 'A virgin may have emerged: look for opened tips and for a virgin, and log emerged and torn-down cells.';
  return { reason: { ok: false, text, figure } };
}

function weather({ weather: w }: GateEvidence): Bar | null {
  if (!w) return null;
  if (w.fitToOpen === 'unknown') return notKnown(w.text);
  return { reason: { ok: w.fitToOpen, text: w.text } };
}

export function mayCutCells(state: IntroductionState, evidence: GateEvidence, nowMs: number): Gate {
  const started =
    state.day0Ms === null ? waits('The split has not been made', 'No split is logged yet.') : null;
  const released =
    state.queen.releasedAtMs === null
      ? null
      : waits('Hands off', 'The candy is open: a look for cells now can get the queen killed.');
  const bars = [
    notClosed(state),
    started,
    released,
    lateEnough(state, nowMs),
    foragers(state, evidence, nowMs),
    earlyEnough(state, nowMs),
    weather(evidence),
  ].filter((bar): bar is Bar => bar !== null);
  return withOverride(
    state,
    decide('cut-cells', bars, 'Cut every queen cell, on every frame, bees shaken off'),
  );
}
