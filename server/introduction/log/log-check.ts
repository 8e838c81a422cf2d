/**
 * Is a new entry one that the log can take? Refused is what can't be true or can't be placed: each problem
 * has a name and one sentence. What is only unlikely is taken, and explained as a contradiction by the fold.
 */
import { isoDate, startOfDay } from '../calendar.ts';
import { effectiveFacts, lastOf, ofKind, type EffectiveFact } from './effective-facts.ts';
import type { FactPayload, LogEntry } from './facts.ts';
import type { IntroductionSetup } from './setup.ts';

export interface LogProblem {
  readonly name:
    | 'other-introduction'
    | 'same-id-other-content'
    | 'in-the-future'
    | 'too-long-ago'
    | 'before-the-split'
    | 'split-not-logged'
    | 'second-split'
    | 'introduction-closed'
    | 'counts-cannot-be'
    | 'corrects-unknown-fact'
    | 'split-is-needed';
  readonly text: string;
}

export type LogCheck =
  | { readonly ok: true }
  | { readonly ok: false; readonly problems: readonly [LogProblem, ...LogProblem[]] };

/** Setting: a phone's clock may be ahead by this much. */
export const clockSlackMs = 5 * 60_000;
/** Setting: one that is entered while it is under way began at most so long before; a clock that was never set is further off. */
const longestBeforeOpeningMs = 366 * 86_400_000;
/** Setting: the most that a nuc holds. */
const framesInNuc = 12;

/** What may be logged before or without a split. */
const needsNoSplit: ReadonlySet<FactPayload['kind']> = new Set([
  'split-made',
  'queen-arrived',
  'queen-dead',
  'brood-disease',
  'note',
  'outcome',
]);
/** What may be logged after the outcome. */
const afterOutcome: ReadonlySet<FactPayload['kind']> = new Set(['note', 'brood-disease', 'grafted']);

const problem = (name: LogProblem['name'], text: string): LogProblem => ({ name, text });

/** Counts that contradict each other within one fact. */
function countProblems(fact: FactPayload): readonly LogProblem[] {
  const problems: LogProblem[] = [];
  if (fact.kind === 'split-made') {
    if (fact.framesOfBees === 0)
      problems.push(problem('counts-cannot-be', 'A split has bees: count the frames that they cover.'));
    const frames = fact.framesOfSealedBrood + fact.framesOfOpenBrood + fact.framesOfStores;
    if (frames > framesInNuc) {
      problems.push(
        problem(
          'counts-cannot-be',
          `${String(frames)} frames of brood and stores don't fit in a nuc: at most ${String(framesInNuc)}.`,
        ),
      );
    }
  }
  if (fact.kind === 'cells-cut' && fact.youngLarvaInOpenCell && (fact.cells.open ?? 0) === 0) {
    problems.push(
      problem('counts-cannot-be', 'A young larva in an open cell needs an open cell: none was counted.'),
    );
  }
  if (fact.kind === 'looked-for-queen' && !fact.eggsSeen) {
    if (fact.severalEggsACell) {
      problems.push(
        problem('counts-cannot-be', 'Several eggs a cell can’t have been seen where no eggs were seen.'),
      );
    }
    if (fact.eggsStand) {
      problems.push(
        problem('counts-cannot-be', 'Where eggs stand can’t have been seen where no eggs were seen.'),
      );
    }
  }
  return problems;
}

function placeProblems(
  setup: IntroductionSetup,
  before: readonly EffectiveFact[],
  fact: FactPayload,
  atMs: number,
): readonly LogProblem[] {
  const problems: LogProblem[] = [];
  const split = ofKind(before, 'split-made')[0];
  if (fact.kind === 'split-made' && split) {
    problems.push(
      problem('second-split', 'A split is logged already; correct that fact instead of adding another.'),
    );
  }
  if (!needsNoSplit.has(fact.kind)) {
    if (split && atMs < split.atMs) {
      problems.push(
        problem(
          'before-the-split',
          'It happened before the split was made: correct its time, or the split’s.',
        ),
      );
    } else if (!split && setup.startingPoint === 'planned-split') {
      problems.push(problem('split-not-logged', 'The split is not logged yet: log it first, with its time.'));
    }
  }
  if (fact.kind === 'split-made' && !split) {
    const earlier = before.find((f) => !needsNoSplit.has(f.fact.kind) && f.atMs < atMs);
    if (earlier)
      problems.push(
        problem(
          'before-the-split',
          'An entry of something done in the nuc lies before this split: correct its time first, or the split’s.',
        ),
      );
  }
  const outcome = lastOf(ofKind(before, 'outcome'));
  if (outcome && atMs >= outcome.atMs && !afterOutcome.has(fact.kind)) {
    problems.push(
      problem(
        'introduction-closed',
        `This introduction was closed (“${outcome.fact.outcome}”): open a new one, or correct the outcome.`,
      ),
    );
  }
  return problems;
}

const future = (setup: IntroductionSetup, atMs: number, nowMs: number): readonly LogProblem[] =>
  atMs <= nowMs + clockSlackMs
    ? []
    : [
        problem(
          'in-the-future',
          startOfDay(atMs, setup.timeZone) === startOfDay(nowMs, setup.timeZone)
            ? 'It lies in the future: log it when it has happened.'
            : 'Its day lies in the future: log it when it has happened.',
        ),
      ];

const tooLongAgo = (setup: IntroductionSetup, atMs: number): readonly LogProblem[] =>
  atMs >= setup.openedAtMs - longestBeforeOpeningMs
    ? []
    : [
        problem(
          'too-long-ago',
          `It lies on ${isoDate(atMs, setup.timeZone)}, over a year before this introduction began: correct its date.`,
        ),
      ];

function correctionProblems(
  setup: IntroductionSetup,
  log: readonly LogEntry[],
  entry: Extract<LogEntry, { type: 'correction' }>,
  nowMs: number,
): readonly LogProblem[] {
  const target = log.find((e) => e.id === entry.corrects);
  if (!target) {
    return [problem('corrects-unknown-fact', `It corrects “${entry.corrects}”, which is not in the log.`)];
  }
  const until = Infinity;
  const now = effectiveFacts(setup.id, log, until);
  const then = effectiveFacts(setup.id, [...log, entry], until);
  // A correction that is taken back leaves the fact as it was before.
  const asItWas = (f: EffectiveFact): boolean =>
    now.some(({ id, atMs, fact }) => id === f.id && atMs === f.atMs && fact === f.fact);
  const changed = then.find((f) => f.correctedBy.includes(entry.id)) ?? then.find((f) => !asItWas(f));
  const lostSplit = ofKind(now, 'split-made').length > 0 && ofKind(then, 'split-made').length === 0;
  const rest = then.some((f) => !needsNoSplit.has(f.fact.kind));
  if (lostSplit && rest && setup.startingPoint === 'planned-split') {
    return [
      problem('split-is-needed', 'Other facts rest on this split: correct it instead of withdrawing it.'),
    ];
  }
  if (!changed) return [];
  const others = then.filter((f) => f !== changed && f.fact.kind !== 'outcome');
  return [
    ...future(setup, changed.atMs, nowMs),
    ...tooLongAgo(setup, changed.atMs),
    ...countProblems(changed.fact),
    ...placeProblems(setup, others, changed.fact, changed.atMs),
  ];
}

const sameContent = (a: LogEntry, b: LogEntry): boolean =>
  JSON.stringify({ ...a, writtenAtMs: 0 }) === JSON.stringify({ ...b, writtenAtMs: 0 });

/** Checks one entry against the log as it is. The same entry sent again is fine: it is stored once. */
export function checkNewEntry(
  setup: IntroductionSetup,
  log: readonly LogEntry[],
  entry: LogEntry,
  nowMs: number,
): LogCheck {
  const twin = log.find((e) => e.id === entry.id);
  const problems: LogProblem[] = [];
  if (twin) {
    if (sameContent(twin, entry)) return { ok: true };
    problems.push(
      problem('same-id-other-content', `Another entry has the id “${entry.id}”: give this one its own.`),
    );
  } else if (entry.introductionId !== setup.id) {
    problems.push(
      problem('other-introduction', `It names the introduction “${entry.introductionId}”, not this one.`),
    );
  } else if (entry.type === 'correction') {
    problems.push(...correctionProblems(setup, log, entry, nowMs));
  } else {
    problems.push(
      ...future(setup, entry.happenedAtMs, nowMs),
      ...tooLongAgo(setup, entry.happenedAtMs),
      ...countProblems(entry.fact),
      ...placeProblems(setup, effectiveFacts(setup.id, log, Infinity), entry.fact, entry.happenedAtMs),
    );
  }
  const [first, ...rest] = problems;
  return first ? { ok: false, problems: [first, ...rest] } : { ok: true };
}
