/** Nucs that are entered while they are under way, and what happened to them, as entries of their logs. Pure. */
import type { FactKind, IntroductionMethod, LogEntry, StartingPoint } from '../api/facts.ts';
import { instantAt } from '../format/calendar.ts';
import type { Draft } from '../visit/draft.ts';
import { emptyDraft, factsOf } from '../visit/draft.ts';
import type { RememberedNuc } from '../visit/remembered-nucs.ts';
import { inFewWords } from '../visit/to-fact.ts';
import type { Unsent } from '../visit/unsent.ts';

/** What was done on one day, in all of the nucs or in some. */
export interface PastVisit {
  readonly key: string;
  readonly day: string;
  readonly time: string;
  readonly without: ReadonlySet<string>;
  readonly draft: Draft;
}

export const pastVisit = (key: string, day: string, acts: readonly FactKind[]): PastVisit => ({
  key,
  day,
  time: '12:00',
  without: new Set<string>(),
  draft: emptyDraft(acts),
});

/** The act that each start begins with; a colony that was not split begins with what was seen. */
export const firstAct: Readonly<Record<StartingPoint, FactKind>> = {
  'planned-split': 'split-made',
  'queenless-with-cells': 'inspection',
  'hopelessly-queenless': 'inspection',
  'own-laying-queen': 'cage-hung',
  'requeened-in-place': 'queen-removed',
};

export interface NewNuc {
  readonly id: string;
  readonly introductionId: string;
  readonly name: string;
  readonly isNew: boolean;
}

interface Common {
  readonly site: { readonly id: string; readonly name: string };
  readonly method: IntroductionMethod;
  /** What queens of their delivery are called. */
  readonly queens?: { readonly label: string; readonly from: number } | undefined;
}

/** As the forms of a visit take them. */
export const asRemembered = (
  nucs: readonly NewNuc[],
  { site, method, queens }: Common,
): readonly RememberedNuc[] =>
  nucs.map(({ id, introductionId, name }, i) => ({
    id,
    introductionId,
    name,
    siteId: site.id,
    siteName: site.name,
    day: null,
    step: null,
    setup: {
      method,
      ...(queens ? { nextQueen: `${queens.label} ${String(queens.from + i)}` } : {}),
    },
  }));

/** Every entry, oldest first, or what is missing, in a sentence. */
export function entriesOf(
  visits: readonly PastVisit[],
  nucs: readonly RememberedNuc[],
  zone: string,
  nowMs: number,
  newId: () => string,
): readonly Unsent[] | string {
  const all: { readonly happenedAtMs: number; readonly one: RememberedNuc; readonly fact: LogFact }[] = [];
  for (const { day, time, without, draft } of visits) {
    const happenedAtMs = instantAt(day, time, zone);
    if (!Number.isFinite(happenedAtMs)) return 'Say on which day each visit was.';
    if (happenedAtMs > nowMs) return 'A visit lies in the future: correct its day.';
    const facts = factsOf(
      draft,
      nucs.filter(({ id }) => !without.has(id)),
    );
    if (typeof facts === 'string') return facts;
    all.push(...facts.map(({ one, fact }) => ({ happenedAtMs, one, fact })));
  }
  return all
    .sort((a, b) => a.happenedAtMs - b.happenedAtMs)
    .map(({ happenedAtMs, one, fact }, i) => ({
      entry: {
        type: 'fact',
        id: newId(),
        introductionId: one.introductionId ?? '',
        happenedAtMs,
        fact,
        writtenAtMs: nowMs + i,
      },
      nucId: one.id,
      nucName: one.name,
      words: inFewWords(fact),
      problems: [],
    }));
}
type LogFact = Extract<LogEntry, { type: 'fact' }>['fact'];

/** When a nuc's introduction began: with the first thing that is known of it. */
export const beginningOf = (nucId: string, entries: readonly Unsent[], nowMs: number): number =>
  Math.min(nowMs, ...entries.filter((one) => one.nucId === nucId).map(({ entry }) => entry.happenedAtMs));
