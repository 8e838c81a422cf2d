/** What the bees do to a queen, or would: laying workers, a balling, biting at the cage. */
import { bitingTooLongDays, calmAfterBallingDays } from '../../biology/figures.ts';
import { dayNumber, startOfDayAfter } from '../calendar.ts';
import { lastOf } from '../log/effective-facts.ts';
import { bitingSpells } from '../log/signs.ts';
import type { IntroductionState } from '../state.ts';
import { byTestFrame, layingWorkers, present } from './common-conditions.ts';
import { blocked, cite, met, pending, since, unknown, type Condition, type MetBy } from './condition.ts';
import { cutOnTheDay } from './starts.ts';

/** Laying workers, a queen that was balled, and bees that bite at the cage. */
export const hiveSigns = (state: IntroductionState, nowMs: number): readonly Condition[] =>
  present([layingWorkers(state, nowMs), bitBefore(state), afterBalling(state, nowMs), temper(state)]);

/** A balling stands until its cause was looked for and the bees were calm at the cage some days later. */
function afterBalling({ signs, looks, setup }: IntroductionState, nowMs: number): Condition | null {
  const { balledAtMs, atTheCage } = signs;
  if (balledAtMs === null) return null;
  const figure = cite('days to calm bees after a balling', calmAfterBallingDays);
  const searched = looks.all.some(
    (look) => look.complete && dayNumber(balledAtMs, look.atMs, setup.timeZone) >= 0,
  );
  if (!searched) {
    return since(
      balledAtMs,
      blocked(
        'She was balled',
        'A queen was balled, and nobody has looked for the cause: look on every frame, bees shaken off, for a cell and a virgin.',
        { first: 'look-through' },
      ),
    );
  }
  const fromMs = startOfDayAfter(balledAtMs, calmAfterBallingDays.value, setup.timeZone);
  if (nowMs < fromMs) {
    return pending(
      'She was balled',
      'A queen was balled: watch the bees on the cage again after some days.',
      { untilMs: fromMs },
      figure,
    );
  }
  return atTheCage !== null && atTheCage.atMs >= fromMs && atTheCage.what !== 'biting'
    ? met('Days after the balling the bees were calm at the cage.', figure)
    : since(
        fromMs,
        pending(
          'Watch the bees on the cage first',
          'A queen was balled, and no calm bees at the cage are logged since these days have passed.',
          { first: 'watch-cage' },
          figure,
        ),
      );
}

const biteForDays = 'They bit on two days or more, as bees with a queen, a virgin or a cell do';

/** Beside a queen of one's own cells are found for sure: who looks for the cause cuts them. */
const lookForCause = (state: IntroductionState): MetBy => ({
  first: cutOnTheDay(state) ? 'cut-cells' : 'look-through',
});

const searchedSince = ({ looks }: IntroductionState, bitMs: number): boolean =>
  looks.all.some((look) => look.complete && look.atMs > bitMs);

/** The last time that they bit at every visit to the cage, on two days or more; from the second day on it has a cause. */
function bitForDays({ facts, setup }: IntroductionState): { fromMs: number; secondDayMs: number } | null {
  const spells = bitingSpells(facts).flatMap((visits) => {
    const [fromMs = NaN] = visits;
    const secondDayMs = visits.find((atMs) => dayNumber(fromMs, atMs, setup.timeZone) >= 1);
    return secondDayMs === undefined ? [] : [{ fromMs, secondDayMs }];
  });
  return lastOf(spells) ?? null;
}

/** Bees that bite for a second day have a cause: looked for on every frame, then by a test frame. */
function bitingStill(state: IntroductionState): Condition | null {
  const { signs, testFrames, setup } = state;
  const { bitingSinceMs, atTheCage } = signs;
  const spell = bitForDays(state);
  if (bitingSinceMs === null || atTheCage === null || spell?.fromMs !== bitingSinceMs) return null;
  if (!searchedSince(state, bitingSinceMs))
    return since(
      spell.secondDayMs,
      blocked(
        'The bees bite at the cage',
        `${biteForDays}: look on every frame, bees shaken off.`,
        lookForCause(state),
      ),
    );
  const days = dayNumber(bitingSinceMs, atTheCage.atMs, setup.timeZone);
  const tested = testFrames.some(({ outMs }) => outMs !== null && outMs > bitingSinceMs);
  return days >= bitingTooLongDays.value && !tested
    ? blocked(
        'The bees bite at the cage',
        `${biteForDays}. No look found it: give a test frame.`,
        byTestFrame(state),
      )
    : null;
}

/** That they are calm once shows no cause to be gone: it is looked for still, unless a test frame told. */
function bitBefore(state: IntroductionState): Condition | null {
  const { testFrames, signs } = state;
  const spell = signs.bitingSinceMs === null ? bitForDays(state) : null;
  if (!spell) return null;
  if (searchedSince(state, spell.fromMs))
    return met('The bees bit for days; every frame was looked through since.');
  const told = testFrames.some(
    ({ outMs, answer }) =>
      (outMs ?? -Infinity) > spell.fromMs && (answer === 'no-queen' || answer === 'queen-was-taken'),
  );
  return told
    ? met('The bees bit for days; a test frame told since.')
    : since(
        spell.secondDayMs,
        pending(
          'Look for what made the bees bite',
          `${biteForDays}. Nobody has looked for the cause since: look on every frame, bees shaken off.`,
          lookForCause(state),
        ),
      );
}

function temper(state: IntroductionState): Condition {
  const { signs, setup } = state;
  const { atTheCage, temperament } = signs;
  if (atTheCage?.what === 'biting') {
    const fromMs = startOfDayAfter(atTheCage.atMs, 1, setup.timeZone);
    const text =
      'They bite, cling or try to sting: look for a cell, a virgin or a larva, and watch them again the next day.';
    return (
      bitingStill(state) ??
      since(fromMs, blocked('The bees bite at the cage', text, { first: 'watch-cage', fromMs }))
    );
  }
  const angry = temperament?.what === 'hostile' && temperament.atMs > (atTheCage?.atMs ?? -Infinity);
  if (angry)
    return since(
      temperament.atMs,
      blocked(
        'The bees are hostile',
        'The bees were hostile at the last visit: watch them on the cage first.',
        { first: 'watch-cage' },
      ),
    );
  return atTheCage
    ? met('The bees were calm at the cage.')
    : unknown(
        'Watch the bees on the cage before you open it: feeding and fanning is good, biting and clinging is not.',
      );
}
