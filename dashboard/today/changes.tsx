/** What changed since this device last looked. */
import { useEffect, useMemo } from 'preact/hooks';
import type { NucSummary } from '../../server/contract/nucs.ts';
import { dayAndTime, deviceZone } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { keep, recall } from '../state/preferences.ts';
import type { FarmSnapshot } from '../state/last-visit.ts';
import { changesSince, snapshotOf } from '../state/last-visit.ts';

const key = 'welcomb.last-look';
/** Coming back within this time counts as the same look, so that a reload does not wipe the list. */
const sameLookMs = 30 * 60_000;

interface Kept {
  /** What was there before this look began. */
  readonly before: FarmSnapshot;
  /** What was there when it was last shown. */
  readonly latest: FarmSnapshot;
}

function readKept(): Kept | undefined {
  try {
    return (JSON.parse(recall(key) ?? 'null') as Kept | null) ?? undefined;
  } catch {
    return undefined;
  }
}

export function Changes({ items }: { items: readonly NucSummary[] }) {
  const kept = useMemo(readKept, []);
  const now = useMemo(() => snapshotOf(items, serverNow.peek()), [items]);
  const goesOn = kept !== undefined && now.atMs - kept.latest.atMs < sameLookMs;
  const before = kept === undefined ? undefined : goesOn ? kept.before : kept.latest;
  useEffect(() => {
    keep(key, JSON.stringify({ before: before ?? now, latest: now }));
  }, [now, before]);
  if (!before) return null;
  const changes = changesSince(before, items);
  if (changes.length === 0) return null;
  const since = dayAndTime(before.atMs, deviceZone(), serverMinute.value);
  return (
    <details class="fold-list changes-fold">
      <summary>Since you last looked ({changes.length})</summary>
      <p class="soft">{since}</p>
      <ul class="changes">
        {changes.map((change) => (
          <li key={`${change.id}${change.words}`}>
            <a href={hashFor('nucs', change.id)}>
              <bdi>{change.name}</bdi>
            </a>{' '}
            {change.words}
          </li>
        ))}
      </ul>
    </details>
  );
}
