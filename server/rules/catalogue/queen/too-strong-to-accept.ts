/** More bees than a bought queen should be given to. */
import { foragersLeaveDays, strongFrames, strongNoMoreFrames } from '../../../biology/figures.ts';
import { beesPerFrame } from '../../../biology/thermal-figures.ts';
import { atLeast } from '../../engine/conditions.ts';
import { dayMs } from '../../../durations.ts';
import type { NucSignals } from '../../../signals/types.ts';
import { isBeforeRelease, waitsForForagers } from '../introduction-stage.ts';
import { bees as number, plain, say } from '../../../words/phrase.ts';
import { decide, defineRule, limit, noData, notApplicable } from '../../engine/rule.ts';
import type { StageFacts } from '../../engine/inputs.ts';

/** Setting: frames are told in halves: what is worked out is no surer. */
const halves = 2;

export const tooStrongToAccept = defineRule({
  id: 'too-strong-to-accept',
  on: 'nuc',
  title: 'Too strong to accept her readily',
  about: 'The nuc holds more frames of bees than is wanted for an introduction.',
  urgency: 'next-visit',
  holdMin: 720,
  clearHoldMin: 720,
  limits: {
    frames: limit(strongFrames.value, [2, 10], '', 'Frames of bees from which a nuc counts as strong'),
    easier: limit(strongNoMoreFrames.value, [1.5, 10], '', 'Frames of bees under which it clears'),
  },
  sources: ['common practice: two to three frames of bees, mostly nurses'],
  evaluate({ introduction, signals, nowMs }, { frames: most, easier }) {
    if (!isBeforeRelease(introduction)) return notApplicable('no queen waits to be released');
    if (introduction.queenDead) return notApplicable('its queen is dead, and no other has come');
    if (stillFlyHome(introduction, signals, nowMs))
      return notApplicable('its foragers are still flying home');
    const { bees } = introduction;
    if (!bees.ok) return noData(bees.why);
    const counted = bees.value / beesPerFrame.value;
    return decide({
      conditions: [atLeast('Frames of bees', counted, most, '')],
      clear: () => counted < easier,
      message: () => ({
        todo: say`Before the release: take out a frame of bees, or move the nuc so that more foragers leave; count the wait longer, not shorter.`,
        seen: say`About ${String(Math.round(counted * halves) / halves)} frames of bees.`,
        why: say`The more bees, and the older, the more often a strange queen is balled.`,
        howSure: say`Worked out from the split, the foragers that left and the brood that emerged: between ${number(bees.low)} and ${number(bees.high)} bees.`,
        settleBy: say`Count the frames that bees cover early in the morning.`,
        facts: [{ name: 'Frames of bees', ...plain(counted) }],
      }),
    });
  },
});

/** They count until they have gone, and are none of those that meet the queen. */
function stillFlyHome(introduction: StageFacts, signals: NucSignals | null, nowMs: number): boolean {
  if (!waitsForForagers(introduction) || signals?.drift.stay) return false;
  const state = signals?.drift.state ?? 'cannot-tell';
  if (state !== 'cannot-tell') return state !== 'gone';
  return nowMs < introduction.splitAtMs + foragersLeaveDays.value * dayMs;
}
