/** A test frame in and out, and the queen that it gives away. */
import { testFrameDays } from '../../../biology/figures.ts';
import { startOfDayAfter } from '../../calendar.ts';
import { lastOf } from '../../log/effective-facts.ts';
import { mayBeOut } from '../../queen/queen-state.ts';
import { cellEmerged, rivalToFind } from '../../cells/rival-seen.ts';
import { oldQueenFeared } from '../../brood/shown-queenless.ts';
import { perhapsTaken, wasThatIt } from '../../log/test-frames.ts';
import { emergedByMs } from '../../log/looks.ts';
import { heldBack, testFramePlan } from '../days/test-frame-plan.ts';
import type { IntroductionState } from '../../state.ts';
import type { ActRow } from '../act.ts';
import type { ActKind, Draft } from '../draft.ts';
import { begun, notClosed, present } from '../common-conditions.ts';
import { pending } from '../condition.ts';
import { missedCellsCondition } from '../missed-cells-condition.ts';
import { laysDrones, neverLaid } from './after-release.ts';
import { chanceLimitOf, soon, soonFor, soonSince, type Situation } from '../situation.ts';
import { cutTwice } from '../starts.ts';
import { visit } from '../words.ts';
import { carriesNothing } from './disease.ts';
import { perhapsBack } from './look-conditions.ts';

const missed =
  'Three looks and never an egg, and the last one did not find her: cells on it mean that she is gone.';

/** Never an egg at three looks, and nothing that workers lay. */
const isBarren = (state: IntroductionState): boolean => neverLaid(state) && !state.signs.layingWorkers;

/** She was met before, so that fewer looks missed her than ask for a frame by themselves. */
const lastMissedHer = (state: IntroductionState): boolean =>
  isBarren(state) && state.queen.where !== 'seen-loose';

/** The first day since the last entry on which no look settled the chance of a missed cell any more. */
function frameAskedSinceMs({ state, evidence, nowMs, clock }: Situation): number {
  let sinceMs = lastOf(state.facts)?.atMs ?? nowMs;
  while (sinceMs < nowMs && !missedCellsCondition(state, evidence.chanceLimit, sinceMs)?.testFrame)
    sinceMs = startOfDayAfter(sinceMs, 1, clock.timeZone);
  return Math.min(sinceMs, nowMs);
}

function planned(situation: Situation, kind: ActKind): Draft | null {
  const { state, clock, sure, draftOf } = situation;
  const found = state.queen.releasedAtMs === null && !state.signs.layingWorkers ? sure() : null;
  const cut = cutTwice(state) ? draftOf('cut-cells') : null;
  const because = found?.testFrame ? found.condition.reason.text : lastMissedHer(state) ? missed : null;
  const frames = testFramePlan(state, clock, {
    because,
    becauseSinceMs: found?.testFrame ? frameAskedSinceMs(situation) : null,
    cutMs: cut && !cut.done ? cut.targetMs : null,
    chanceLimit: chanceLimitOf(situation),
  });
  return frames.find((one) => one.kind === kind) ?? null;
}

export const testFrameIn: ActRow = {
  kind: 'test-frame-in',
  settles: 'whether a queen of any kind is there',
  draft: (situation) => planned(situation, 'test-frame-in'),
  asked: soonFor,
  conditions: (situation) =>
    present([
      notClosed(situation.state),
      begun(situation.state, situation.nowMs),
      carriesNothing(situation.state),
      perhapsBack(situation),
    ]),
  words: () =>
    visit(
      'Put a test frame in',
      'brood-frame-added',
      'Put in a marked frame with eggs and young larvae from a healthy colony.',
      ['marked frame with eggs and young larvae', 'brush'],
    ),
};

export const testFrameOut: ActRow = {
  kind: 'test-frame-out',
  settles: 'whether a queen of any kind is there',
  draft: (situation) => planned(situation, 'test-frame-out'),
  asked: soonFor,
  conditions: ({ state, nowMs, draftOf }) => {
    const draft = draftOf('test-frame-out');
    return present([
      notClosed(state),
      draftOf('test-frame-in')?.done
        ? draft && nowMs < draft.earliestMs
          ? pending(
              'The frame stays in',
              mayBeOut(state.queen)
                ? 'She was let out beside it: it comes out in the visit that looks for her, or the day before its cells open.'
                : 'Cells are started within one to two days.',
              { untilMs: draft.earliestMs },
            )
          : null
        : pending('No test frame is in', 'It is put in first.', { first: 'test-frame-in' }),
    ]);
  },
  words: ({ state }) =>
    visit(
      'Take the test frame out',
      'brood-frame-taken',
      `${perhapsTaken(state.facts) ? `${wasThatIt} If not: ` : ''}Look at the marked frame: queen cells on it mean that no queen is there. Take it out whole, bees shaken off.${carriesNothing(state) ? ' It goes into no other colony: close it up where no bee gets at it.' : ''}`,
      ['brush', 'box for the frame'],
    ),
  figures: () => ({ earliest: testFrameDays, best: testFrameDays, latest: testFrameDays }),
};

/** The virgin of a cell that nobody cut may walk beside the queen that was let out. */
const besideHer = (state: IntroductionState): boolean => mayBeOut(state.queen) && cellEmerged(state);

/** Beside a queen that lays a test frame tells nothing. */
const notFound = (state: IntroductionState): string =>
  mayBeOut(state.queen)
    ? 'Cut any cell that stands. If you do not find her, log the look on every frame.'
    : 'If you do not find her, give a test frame.';

/** A test frame without a cell tells of her, and nobody has looked since. */
const toldByFrame = (state: IntroductionState): boolean =>
  heldBack(state) === 'find-her' &&
  (lastOf(state.queen.notFoundAtMs) ?? -Infinity) < (lastOf(state.testFrames)?.outMs ?? -Infinity);

/** Why the one that was given fails, where she is there: met at the last look, or told by a test frame; null else. */
function whyFails(state: IntroductionState): string | null {
  const met = state.queen.where === 'seen-loose';
  if (isBarren(state) && (met || toldByFrame(state)))
    return 'Three looks and never an egg, two weeks after she was let out: she fails.';
  return met && laysDrones(state) ? 'Drone brood at two looks, and she walks there: she lays drones.' : null;
}

/** Common practice. */
const failing = visit(
  'Take the failing queen out',
  'queen-dead',
  'Find her, take her out for good, and log her as dead. Then give the nuc its next queen, or unite it over newspaper with a colony that has one. If you do not find her, log the look.',
  ['queen catcher', 'torch'],
);

const frameOut = ({ testFrames }: IntroductionState): { sinceMs?: number } => {
  const outMs = lastOf(testFrames)?.outMs;
  return outMs == null ? {} : { sinceMs: outMs };
};

/** A virgin was seen, or that of a cell that nobody cut must be out. */
function virginFearedMs(state: IntroductionState): number {
  const { looks, nowMs } = state;
  const seen = looks.all.findLast(({ virginSeen }) => virginSeen === true);
  if (rivalToFind(state)) return seen?.atMs ?? nowMs;
  return looks.leftStanding ? emergedByMs(looks.leftStanding) : nowMs;
}

export const takeQueenOut: ActRow = {
  kind: 'take-queen-out',
  settles: 'that the queen that was seen or feared is gone',
  draft: (situation) => {
    const why = situation.state.outcome ? null : whyFails(situation.state);
    if (why !== null) return { why: [why], ...soon(situation) };
    return !situation.state.outcome && (rivalToFind(situation.state) || besideHer(situation.state))
      ? {
          why: [
            rivalToFind(situation.state)
              ? mayBeOut(situation.state.queen)
                ? 'A virgin was seen beside her: one of the two will be killed.'
                : 'A virgin was seen, and is not logged as taken away.'
              : 'A cell was seen beside her and never cut: by now its virgin is out, or the bees tore it down.',
          ],
          ...soonSince(situation, virginFearedMs(situation.state)),
        }
      : null;
  },
  // Since the frame told of her, whoever asks.
  asked: (situation, asked) =>
    soonFor(situation, heldBack(situation.state) ? { ...asked, ...frameOut(situation.state) } : asked),
  conditions: ({ state, nowMs }) => present([notClosed(state), begun(state, nowMs)]),
  words: ({ state }) =>
    whyFails(state) !== null
      ? failing
      : visit(
          'Find the loose queen and take her away',
          'queen-removed',
          state.evidence.layingQueenSeen
            ? 'Look for the laying queen that was seen, first where the eggs are, then on the walls. Take her away, and log which one she was. If you do not find her, log the look: eggs or none?'
            : oldQueenFeared(state.evidence)
              ? 'Look for the old queen on every frame, first where the eggs are, then on the walls. Take her away and log it. If you do not find her, log the look: eggs or none?'
              : `Go through every frame and the walls for a virgin or another queen: she is small and runs. Take her away and log which one it was. ${notFound(state)}`,
          ['queen catcher', 'torch', 'brush'],
        ),
};
