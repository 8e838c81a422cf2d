/** The share of cells that this farm's inspections miss, from the introductions that had ended before one was opened. */
import { looksEvidence, farmsMissRate } from '../introduction/miss-rate.ts';
import type { MissRate } from '../introduction/log/setup.ts';
import type { MissEvidence } from '../introduction/cells/standing-cells.ts';
import { foldIntroduction } from '../introduction/state.ts';
import type { Introduction } from '../store/field-log/introductions.ts';
import type { Store } from '../store/store.ts';
import { setupOf } from './setup-of.ts';

/** A keeper's skill changes: only so many of the newest introductions count. */
const mostNucs = 40;

/** What each ended introduction says, kept until its log changes: folding them all for every nuc would be slow. */
const kept = new WeakMap<Store, Map<string, MissEvidence | null>>();

export function forgetMissRates(store: Store, introductionId?: string): void {
  if (introductionId === undefined) kept.delete(store);
  else kept.get(store)?.delete(introductionId);
}

/**
 * Fixed for the whole of an introduction, as only what ended before it was opened counts: a gate's answer does not
 * move with what happens in other nucs.
 */
export function missRateBefore(store: Store, opened: Introduction): MissRate | undefined {
  const ended = store.introductions
    .list({ open: false })
    .filter(
      ({ id, closedAtMs }) => id !== opened.id && closedAtMs !== undefined && closedAtMs <= opened.openedAtMs,
    )
    .toSorted((a, b) => (b.closedAtMs ?? 0) - (a.closedAtMs ?? 0));
  const evidence: MissEvidence[] = [];
  for (const introduction of ended) {
    const one = evidenceOf(store, introduction);
    if (one) evidence.push(one);
    if (evidence.length === mostNucs) break;
  }
  return farmsMissRate(evidence);
}

function evidenceOf(store: Store, introduction: Introduction): MissEvidence | null {
  const known = kept.get(store) ?? new Map<string, MissEvidence | null>();
  kept.set(store, known);
  const there = known.get(introduction.id);
  if (there !== undefined) return there;
  const hive = store.places.hive(introduction.nucId);
  const site = hive && store.places.site(hive.siteId);
  const state =
    site &&
    foldIntroduction(
      setupOf(store, introduction, site.timeZone),
      store.introductions.log(introduction.id),
      introduction.closedAtMs ?? introduction.openedAtMs,
    );
  const evidence = state ? looksEvidence(state) : null;
  known.set(introduction.id, evidence);
  return evidence;
}
