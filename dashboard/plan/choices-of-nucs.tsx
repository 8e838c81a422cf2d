/** While somebody moves a delivery: what each nuc that waits for it could do. Nothing is stored. */
import type { QueryOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { localDate } from '../format/calendar.ts';
import { zoneOfSite } from '../parts/site-zone.ts';
import { serverMinute } from '../state/live.ts';
import { resourceFamily, useAnswer } from '../state/resource.ts';
import { Choices } from './late-queen.tsx';

const queensIf = resourceFamily(
  (key) => call('getQueens', { query: JSON.parse(key) as QueryOf<'getQueens'> }),
  { changedBy: ({ type }) => type === 'nuc' },
);

export function ChoicesOfNucs({ arrivalId, expected }: { arrivalId: string; expected: string }) {
  const { data, trouble } = useAnswer(queensIf, { arrival: arrivalId, expected });
  if (trouble) return <p class="fault">{trouble.message}</p>;
  const nucs = data?.items.find((one) => one.arrivalId === arrivalId)?.nucs ?? [];
  const split = nucs.filter((one) => one.splitMade);
  if (split.length === 0) return null;
  const today = localDate(serverMinute.value, zoneOfSite(undefined));
  return (
    <>
      <h3>Nucs that are split already</h3>
      <ul class="plain-list">
        {split.map((one) => (
          <li key={one.nucId} class="arrival">
            <p>
              <b>
                <bdi>{one.nucName}</bdi>
              </b>
              : {one.late || one.order === null ? 'what it can do' : 'she comes in good time.'}
            </p>
            {(one.late || one.order === null) && <Choices of={one} today={today} />}
          </li>
        ))}
      </ul>
    </>
  );
}
