/** What a delivery on another day would mean for the nucs that are planned for it and not split yet. */
import type { BodyOf } from '../../server/contract/index.ts';
import type { Arrival } from '../../server/contract/plan.ts';
import { addDays, daysBetween, localDate } from '../format/calendar.ts';
import { zoneOfSite } from '../parts/site-zone.ts';
import { sites } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { ChoicesOfNucs } from './choices-of-nucs.tsx';
import { Dates, usePreview } from './preview.tsx';

export function WhatFollows({ arrival, expected }: { arrival: Arrival; expected: string }) {
  const siteId = useResource(sites).data?.items[0]?.id ?? '';
  const common = { name: arrival.name, siteId, nucs: 1, namePrefix: 'Nuc' } as const;
  const asItIs: BodyOf<'previewBatch'> = { ...common, by: 'arrival', arrivalId: arrival.id };
  const before = usePreview(siteId === '' ? undefined : asItIs).preview;
  // The server says how long before the delivery the split is; moved by as many days, the rest follows from there.
  const ahead = before ? daysBetween(before.splitOn, arrival.arrived ?? arrival.expected) : 0;
  const moved: BodyOf<'previewBatch'> = {
    ...common,
    by: 'split',
    splitOn: expected === '' ? arrival.expected : addDays(expected, -ahead),
  };
  const { preview, problem } = usePreview(before && expected !== '' ? moved : undefined);
  if (problem !== undefined) return <p class="fault">{problem}</p>;
  if (!preview) return null;
  return (
    <div class="batch-dates" aria-live="polite">
      <h3>Nucs that are not split yet would follow</h3>
      <Dates preview={preview} before={before} today={localDate(serverMinute.value, zoneOfSite(siteId))} />
      {expected !== '' && <ChoicesOfNucs arrivalId={arrival.id} expected={expected} />}
    </div>
  );
}
