/** Conditions that more than one act asks for. */
import {
  layingWorkersWatchDays,
  eggStageDays,
  highEnd,
  layingWorkersLookDays,
} from '../../biology/figures.ts';
import { dayNumber, startOfDayAfter } from '../calendar.ts';
import { earliestLookForEarlier } from '../queen/earliest-look.ts';
import { lastOf, ofKind } from '../log/effective-facts.ts';
import type { GateEvidence } from './gate.ts';
import { mayBeOut, strangerSeen } from '../queen/queen-state.ts';
import { disprovedFromMs, eggsInDoubt, layingSignWords, perhapsHers } from '../brood/eggs-in-doubt.ts';
import { queenToFind } from '../brood/shown-queenless.ts';
import type { LayingSign } from '../log/signs.ts';
import type { IntroductionState } from '../state.ts';
import { heldBack, searchedEnough } from './days/test-frame-plan.ts';
import type { ActKind } from './draft.ts';
import type { FactKind } from '../log/facts.ts';
import { blocked, cite, met, pending, since, type Condition, type MetBy } from './condition.ts';
import { beginsWithSplit, oldQueenToBeFound } from './starts.ts';
import { sentence } from '../../words/sentence.ts';

/** Calendar day after the loss on which no egg of the old queen is left. */
const eggsGoneDay = Math.ceil(highEnd(eggStageDays));

export const present = (conditions: readonly (Condition | null)[]): readonly Condition[] =>
  conditions.filter((condition) => condition !== null);

export const notClosed = ({ outcome }: IntroductionState): Condition | null =>
  outcome
    ? blocked(
        'This introduction is closed',
        `The outcome “${outcome.outcome.replaceAll('-', ' ')}” is logged: open a new introduction.`,
        { newIntroduction: true },
      )
    : null;

/** Before the split is made, or the old queen taken, there is nothing else to say. */
export function begun(state: IntroductionState, nowMs: number): Condition | null {
  if (oldQueenToBeFound(state)) {
    return pending(
      'The old queen is still in it',
      'Find the old queen, take her away and log it: the days count from then.',
      { first: 'find-old-queen' },
    );
  }
  const notYet = state.day0Ms === null || nowMs < state.day0Ms;
  return notYet && beginsWithSplit(state)
    ? pending('The split has not been made', 'No split is logged yet.', { first: 'split' })
    : null;
}

/** A test frame is asked for by its first act that is not done; after one without cells the queen is looked for. */
export function byTestFrame(state: IntroductionState): MetBy {
  const held = heldBack(state);
  if (held) return { first: held === 'unite' ? 'unite' : 'take-queen-out' };
  return { first: lastOf(state.testFrames)?.answer === 'still-in' ? 'test-frame-out' : 'test-frame-in' };
}

/** From when on a look for eggs tells whether the old queen is in it. */
export const eggsTellFromMs = ({ split, day0Ms, setup, nowMs }: IntroductionState): number =>
  split ? startOfDayAfter(split.atMs, eggsGoneDay, setup.timeZone) : (day0Ms ?? nowMs);

/** What shows whether a queen walks free: a look for eggs while that can tell, else a test frame. */
function byEggsOrTestFrame(state: IntroductionState, nowMs: number): readonly [MetBy, string] {
  const { split, windows, looks } = state;
  const fromMs = eggsTellFromMs(state);
  const until = windows.sealedBroodUntilMs ?? Infinity;
  const looked = looks.all.some(
    (look) => look.complete && look.youngestBrood !== 'not-looked' && look.atMs >= fromMs,
  );
  return looked || nowMs > until
    ? [byTestFrame(state), 'A test frame tells.']
    : [
        { first: 'look-through', fromMs },
        split ? 'Look for eggs on every frame, from day 4 on.' : 'Look for eggs on every frame.',
      ];
}

/** A queen that nobody let out was last seen then, or what only one can have laid; NaN where nobody can date that. */
export const strangerSeenMs = ({ queen, facts, contradictions }: IntroductionState): number =>
  strangerSeen(queen)
    ? (queen.lastSeenAtMs ?? NaN)
    : (lastOf(ofKind(facts, 'inspection').filter(({ fact }) => fact.layingQueenSeen))?.atMs ??
      lastOf(contradictions)?.atMs ??
      NaN);

/** A virgin was seen: when is the last look that saw one. */
export const virginInIt = ({ looks }: IntroductionState): Condition =>
  since(
    looks.all.findLast(({ virginSeen }) => virginSeen === true)?.atMs ?? NaN,
    blocked('A virgin is in the box', 'A virgin was seen and is not logged as taken away.', {
      first: 'take-queen-out',
    }),
  );

/** No queen of any kind is known or feared in the box, by what the log shows. */
export function queenlessness(state: IntroductionState, nowMs: number): Condition {
  const { queenless, queenlessWhy } = state.evidence;
  if (queenless === 'shown') return met(`Queenless: ${queenlessWhy}.`);
  if (queenless === 'contradicted') {
    return queenToFind(state.evidence) || strangerSeen(state.queen)
      ? since(
          strangerSeenMs(state),
          blocked('A queen may be in the box', sentence(queenlessWhy), { first: 'take-queen-out' }),
        )
      : blocked('A queen may be in the box', sentence(queenlessWhy), byTestFrame(state));
  }
  const [metBy, how] = byEggsOrTestFrame(state, nowMs);
  return pending('Show first that the box is queenless', `${sentence(queenlessWhy)} ${how}`, metBy);
}

/** The act that goes on with the search for a queen that was not found. */
export const nextSearch = (state: IntroductionState): ActKind =>
  searchedEnough(state) ? 'test-frame-in' : 'look-again';

/** Another queen would meet the one that was let out before her. */
export function earlierQueenOut(state: IntroductionState): Condition | null {
  if (!state.queen.earlierMayBeOut) return null;
  const next = nextSearch(state);
  const { queen, setup, nowMs } = state;
  const fromMs = Math.max(nowMs, earliestLookForEarlier(queen, setup));
  if (queen.notFoundAtMs.length === 0)
    return blocked(
      'An earlier queen may be out',
      'A queen was let out before, and nobody has looked for her since: look for her once her days of hands off are over.',
      { first: 'look-again', fromMs },
    );
  return blocked(
    'An earlier queen may be out',
    'A queen was let out before. That she was not found does not show that she is gone: look again after four to five days, then give a test frame.',
    next === 'look-again' ? { first: next } : byTestFrame(state),
  );
}

const looksIntoIt: ReadonlySet<FactKind> = new Set([
  'moved',
  'inspection',
  'cells-cut',
  'cage-hung',
  'cage-checked',
  'looked-for-queen',
]);

/** The scale says that bees or box are gone, and nobody has looked since; null else. */
export function leftTogether(state: IntroductionState, { lookFirst }: GateEvidence): Condition | null {
  if (
    !lookFirst ||
    state.facts.some(({ atMs, fact }) => atMs >= lookFirst.sinceMs && looksIntoIt.has(fact.kind))
  )
    return null;
  const first = state.queen.inCageSinceMs === null ? 'look-through' : 'watch-cage';
  return since(lookFirst.sinceMs, pending(lookFirst.headline, lookFirst.text, { first }));
}

const signSeen: Readonly<Record<LayingSign['what'], string>> = {
  'several-eggs-a-cell': 'Several eggs in a cell',
  'eggs-on-the-walls': 'Eggs on the cell walls',
  'drone-brood-in-worker-cells': 'Drone brood in worker cells',
};

/** One sight of eggs so soon after the loss may be a mistake. */
function lookAgainForWorkers({ what, atMs }: LayingSign, nowMs: number, timeZone: string): Condition {
  const fromMs = startOfDayAfter(atMs, 1, timeZone);
  const text = `${signSeen[what]}, seen once. So soon without a queen workers hardly lay: look for eggs on every frame again. Several in a cell, on the walls, or drone brood in worker cells confirm it.`;
  return since(
    fromMs,
    pending(
      'Look again for laying workers',
      text,
      nowMs < fromMs ? { first: 'look-through', fromMs, untilMs: fromMs } : { first: 'look-through' },
    ),
  );
}

/** Of brood that was seen since she was let out. */
const hersOrWorkers = (state: IntroductionState, { what }: LayingSign): string =>
  eggsInDoubt(state)
    ? `${signSeen[what]}: hers for some days, or workers’. Worker cappings decide.`
    : `${layingSignWords[what]}.`;

/** Signs of laying workers, and a look for them once they are likely; null before, and while a queen is out. */
export function layingWorkers(state: IntroductionState, nowMs: number): Condition | null {
  const { signs, windows, setup, queen } = state;
  const watchFrom = windows.layingWorkersWatchFromMs;
  const looked = signs.lookedForLayingWorkersAtMs;
  const figure = cite('days without a queen', layingWorkersWatchDays);
  if (signs.layingWorkers) {
    const seen = signSeen[signs.layingWorkers.what];
    const either = `${seen}. The queen that is gone laid it, or workers do: a test frame tells.`;
    if (perhapsHers(state)) return blocked('Workers may be laying', either, byTestFrame(state));
    if (mayBeOut(queen) && signs.layingWorkers.atMs >= (queen.releasedAtMs ?? Infinity))
      return blocked('Workers may be laying', hersOrWorkers(state, signs.layingWorkers), { first: 'unite' });
    const againMs = disprovedFromMs(state);
    if (againMs !== null) {
      const text = `${seen}. Workers are laying, unless a second look on every frame, days after the first, finds nothing again.`;
      return blocked('Laying workers', text, { first: 'look-through', fromMs: Math.max(againMs, nowMs) });
    }
    return blocked('Laying workers', `${seen}. Workers are laying, and they kill a queen.`, {
      first: 'unite',
    });
  }
  if (signs.suspected) return lookAgainForWorkers(signs.suspected, nowMs, setup.timeZone);
  // Once she is out nobody looks for them alone: the look for her does.
  if (watchFrom === null || nowMs < watchFrom || mayBeOut(queen)) return null;
  const fresh = looked !== null && dayNumber(looked, nowMs, setup.timeZone) <= layingWorkersLookDays.value;
  return fresh
    ? met('No sign of laying workers at the last look.', figure)
    : since(
        Math.max(
          watchFrom,
          looked === null
            ? -Infinity
            : startOfDayAfter(looked, layingWorkersLookDays.value + 1, setup.timeZone),
          queen.lastSeenAtMs ?? -Infinity,
        ),
        pending(
          'Look for laying workers first',
          'So long without a queen, workers may lay: look for several eggs a cell and drone brood in worker cells, the signs of laying workers.',
          { first: 'look-through' },
          figure,
        ),
      );
}
