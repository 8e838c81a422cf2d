/** What a keeper would notice when coming back to the page: compared nuc by nuc. Pure. */
import type { NucSummary } from '../../server/contract/nucs.ts';

interface NucSnapshot {
  readonly stage: string;
  readonly drift: string;
  readonly candy: string;
  readonly done: number;
}
export interface FarmSnapshot {
  readonly atMs: number;
  readonly nucs: Readonly<Record<string, NucSnapshot>>;
}
export interface Change {
  readonly id: string;
  readonly name: string;
  readonly words: string;
}

const nucSnapshot = (one: NucSummary): NucSnapshot => ({
  stage: one.stage,
  drift: one.drift?.state ?? '',
  candy: one.candyGate?.done ? 'done' : (one.candyGate?.answer ?? ''),
  done: one.rail?.visits.filter((visit) => visit.state === 'done').length ?? 0,
});

export const snapshotOf = (items: readonly NucSummary[], atMs: number): FarmSnapshot => ({
  atMs,
  nucs: Object.fromEntries(items.map((one) => [one.hive.id, nucSnapshot(one)])),
});

const driftWords: Readonly<Record<string, string>> = {
  'no-flying-weather': 'has had no flying weather for its foragers to leave in',
  leaving: 'is losing its foragers now',
  'nearly-gone': 'has lost nearly all its foragers',
  gone: 'has lost its foragers',
  'cannot-tell': 'no longer shows whether its foragers have left',
};
const candyWords: Readonly<Record<string, string>> = {
  go: 'may have its queen let out',
  wait: 'has to wait before its queen is let out',
  stop: 'must not have its queen let out as things are',
};

function changesOf(before: NucSnapshot | undefined, one: NucSummary): string[] {
  if (!before) return ['is new'];
  const now = nucSnapshot(one);
  const words: string[] = [];
  if (now.done > before.done)
    words.push(
      now.done - before.done === 1 ? 'was visited' : `was visited ${String(now.done - before.done)} times`,
    );
  if (now.stage !== before.stage) words.push(`is now: ${one.stageText}`);
  if (now.drift !== before.drift && driftWords[now.drift]) words.push(driftWords[now.drift] ?? '');
  if (now.candy !== before.candy && candyWords[now.candy]) words.push(candyWords[now.candy] ?? '');
  return words;
}

export function changesSince(before: FarmSnapshot, items: readonly NucSummary[]): readonly Change[] {
  return items.flatMap((one) =>
    changesOf(before.nucs[one.hive.id], one).map((words) => ({
      id: one.hive.id,
      name: one.hive.name,
      words,
    })),
  );
}
