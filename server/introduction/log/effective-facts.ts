/**
 * The log as if the right thing had been written at once: corrections applied, in the order in which
 * things happened. The order of writing plays no part, except among corrections of the same fact, where
 * the last written counts.
 */
import type { Correction, FactKind, FactPayload, LogEntry, Observation } from './facts.ts';

export interface EffectiveFact<K extends FactKind = FactKind> {
  readonly id: string;
  readonly atMs: number;
  readonly writtenAtMs: number;
  readonly fact: Extract<FactPayload, { kind: K }>;
  readonly by?: string;
  readonly note?: string;
  /** Ids of the corrections that shaped it, in the order in which they were written. */
  readonly correctedBy: readonly string[];
}

interface Shaped {
  readonly introductionId: string;
  readonly withdrawn: boolean;
  readonly fact: EffectiveFact;
}

/**
 * Facts of one visit often carry the same instant; this is the order in which they are done at the hive. A queen that
 * gets out does so after she came or was taken out of the cage; hung in the same visit, she was caught again.
 */
const visitOrder = [
  'split-made',
  'moved',
  'queen-arrived',
  'brood-frame-taken',
  'queen-removed',
  'inspection',
  'cells-cut',
  'looked-for-queen',
  'balled',
  'queen-dead',
  'brood-frame-added',
  'fed',
  'cage-checked',
  'cage-taken-out',
  'queen-escaped',
  'cage-hung',
  'gate-overridden',
  'candy-opened',
  'grafted',
  'brood-disease',
  'note',
  'outcome',
] as const satisfies readonly FactKind[];

const writtenOrder = (a: LogEntry, b: LogEntry): number =>
  a.writtenAtMs - b.writtenAtMs || (a.id < b.id ? -1 : 1);

/** The old queen is taken before the frames are gone through; a virgin or a young queen is taken by the look that meets her. */
const placeInVisit = ({ fact }: EffectiveFact): number =>
  fact.kind === 'queen-removed' && fact.which !== 'old-queen'
    ? visitOrder.indexOf('looked-for-queen') + 0.5
    : // Of a kind without a place in the list this does not compile.
      visitOrder.indexOf(fact.kind);

const happenedOrder = (a: EffectiveFact, b: EffectiveFact): number =>
  a.atMs - b.atMs || placeInVisit(a) - placeInVisit(b) || (a.id < b.id ? -1 : 1);

/** Neither withdraws nor takes back. */
export const says = (c: Correction): boolean =>
  c.replacement !== undefined || c.replacementHappenedAtMs !== undefined || c.moveTo !== undefined;

/**
 * Corrections that count, by the id of the observation that they reach. A correction may itself be
 * corrected: with new content it is superseded, with none it is taken back.
 */
export function liveCorrections(log: readonly LogEntry[]): Map<string, Correction[]> {
  const corrections = log.filter((e): e is Correction => e.type === 'correction').sort(writtenOrder);
  const byId = new Map(corrections.map((c) => [c.id, c]));
  const rootOf = (c: Correction): string => {
    const seen = new Set<string>();
    let at = c;
    for (let next = byId.get(at.corrects); next && !seen.has(next.id); next = byId.get(next.corrects)) {
      seen.add(next.id);
      at = next;
    }
    return at.corrects;
  };
  const overtaken = new Set<string>();
  for (const c of [...corrections].reverse()) {
    if (!overtaken.has(c.id) && byId.has(c.corrects)) overtaken.add(c.corrects);
  }
  const live = new Map<string, Correction[]>();
  for (const c of corrections) {
    const onlyTakesBack = byId.has(c.corrects) && !says(c);
    if (overtaken.has(c.id) || onlyTakesBack) continue;
    const root = rootOf(c);
    live.set(root, [...(live.get(root) ?? []), c]);
  }
  return live;
}

function shape(observation: Observation, corrections: readonly Correction[]): Shaped {
  let { introductionId, fact, happenedAtMs } = observation;
  let withdrawn = false;
  for (const c of corrections) {
    withdrawn = !says(c);
    fact = c.replacement ?? fact;
    happenedAtMs = c.replacementHappenedAtMs ?? happenedAtMs;
    introductionId = c.moveTo ?? introductionId;
  }
  return {
    introductionId,
    withdrawn,
    fact: {
      id: observation.id,
      atMs: happenedAtMs,
      writtenAtMs: observation.writtenAtMs,
      fact,
      ...(observation.by === undefined ? {} : { by: observation.by }),
      ...(observation.note === undefined ? {} : { note: observation.note }),
      correctedBy: corrections.map((c) => c.id),
    },
  };
}

/**
 * Facts of one introduction up to and including `nowMs`, in the order in which they happened. `log` may
 * hold entries of other introductions: facts moved here by a correction are found among them.
 */
export function effectiveFacts(
  introductionId: string,
  log: readonly LogEntry[],
  nowMs: number,
): readonly EffectiveFact[] {
  const live = liveCorrections(log);
  const once = new Map(log.filter((e): e is Observation => e.type === 'fact').map((e) => [e.id, e]));
  return [...once.values()]
    .map((observation) => shape(observation, live.get(observation.id) ?? []))
    .filter((s) => !s.withdrawn && s.introductionId === introductionId && s.fact.atMs <= nowMs)
    .map((s) => s.fact)
    .sort(happenedOrder);
}

const isKind =
  (kind: FactKind) =>
  ({ fact }: EffectiveFact): boolean =>
    fact.kind === kind;

/** Facts of one kind, with their payload's type. */
export const ofKind = <K extends FactKind>(
  facts: readonly EffectiveFact[],
  kind: K,
): readonly EffectiveFact<K>[] => facts.filter(isKind(kind)) as unknown as readonly EffectiveFact<K>[];

export const lastOf = <T>(items: readonly T[]): T | undefined => items[items.length - 1];
