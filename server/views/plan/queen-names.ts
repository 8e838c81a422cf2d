/** What the log's forms call the queen that a nuc gets next: by her delivery and a number, so that nobody types a name. */
import { effectiveFacts, type EffectiveFact } from '../../introduction/log/effective-facts.ts';
import type { Introduction } from '../../store/field-log/introductions.ts';
import type { Arrival } from '../../store/field-log/queens.ts';
import type { Store } from '../../store/store.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';

/** Longer than this the breeder's name is no name for a queen. */
const longestSource = 20;

const labelOf = ({ source, name }: Arrival): string =>
  source.trim() !== '' && source.trim().length <= longestSource ? source.trim() : name.trim();

const nameIn = (arrival: Arrival, n: number): string => `${labelOf(arrival)} ${String(n)}`;

/** Whether a queen bears the name that the forms give to those of this delivery. */
export const isNamedAfter = (arrival: Arrival, queenId: string): boolean => {
  const n = Number(queenId.slice(queenId.lastIndexOf(' ') + 1));
  return n > 0 && queenId === nameIn(arrival, n);
};

const namedIn = (facts: readonly EffectiveFact[]): string[] =>
  facts.flatMap(({ fact }) =>
    fact.kind === 'queen-arrived' || fact.kind === 'cage-hung' ? [fact.queenId] : [],
  );

/** The one that is there already, at hand or in the nuc. */
function queenThere({ state, introduction }: NucAnalysis): string | undefined {
  const queen = state?.queen;
  if (queen?.queenId != null)
    return queen.where === 'dead' || queen.where === 'gone' ? undefined : queen.queenId;
  return introduction?.queenId;
}

/** The first of the names that no queen has; it is taken then. */
function firstFree(nameOf: (n: number) => string, taken: Set<string>): string {
  for (let n = 1; ; n += 1) {
    const name = nameOf(n);
    if (taken.has(name)) continue;
    taken.add(name);
    return name;
  }
}

/** By nuc; in the nucs' natural order, so that each keeps its number while others get their queens. */
export function nextQueens(store: Store, analyses: readonly NucAnalysis[]): ReadonlyMap<string, string> {
  const wanting = analyses
    .filter((one) => one.introduction?.closedAtMs === undefined && queenThere(one) === undefined)
    .toSorted((a, b) => a.nuc.name.localeCompare(b.nuc.name, 'en', { numeric: true }));
  const arrivals = new Map(store.queens.arrivals().map((one) => [one.id, one]));
  const wanted = new Set(wanting.flatMap(({ introduction }) => introduction?.arrivalId ?? []));
  const taken = new Set([
    ...analyses.flatMap((one) => [queenThere(one) ?? '', ...namedIn(one.state?.facts ?? [])]),
    ...namedBefore(store, wanted, new Set(analyses.flatMap(({ introduction }) => introduction?.id ?? []))),
  ]);
  const names = new Map<string, string>();
  for (const one of analyses) {
    const there = queenThere(one);
    if (there !== undefined) names.set(one.nuc.id, there);
  }
  for (const { nuc, introduction } of wanting) {
    const arrival = arrivals.get(introduction?.arrivalId ?? '');
    const nameOf = (n: number): string =>
      arrival ? nameIn(arrival, n) : `${nuc.name} queen${n === 1 ? '' : ` ${String(n)}`}`;
    names.set(nuc.id, firstFree(nameOf, taken));
  }
  return names;
}

/** Queens of these deliveries that earlier introductions had. */
function namedBefore(store: Store, arrivalIds: ReadonlySet<string>, current: ReadonlySet<string>): string[] {
  if (arrivalIds.size === 0) return [];
  const isBefore = ({ id, arrivalId }: Introduction): boolean =>
    arrivalId !== undefined && arrivalIds.has(arrivalId) && !current.has(id);
  return store.introductions
    .list()
    .filter(isBefore)
    .flatMap(({ id }) => namedIn(effectiveFacts(id, store.introductions.log(id), Infinity)));
}
