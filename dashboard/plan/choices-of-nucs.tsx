/** While somebody moves a delivery: what each nuc that waits for it could do. Nothing is stored. */
import { useEffect, useState } from 'preact/hooks';
import type { NucForQueen } from '../../server/contract/plan.ts';
import { call } from '../api/client.ts';
import { wordsOf } from '../api/trouble.ts';
import { localDate } from '../format/calendar.ts';
import { zoneOfSite } from '../parts/site-zone.ts';
import { serverMinute } from '../state/live.ts';
import { Choices } from './late-queen.tsx';

const askAfterMs = 250;

export function ChoicesOfNucs({ arrivalId, expected }: { arrivalId: string; expected: string }) {
  const [nucs, setNucs] = useState<readonly NucForQueen[]>([]);
  const [problem, setProblem] = useState('');
  useEffect(() => {
    let current = true;
    const timer = setTimeout(() => {
      call('getQueens', { query: { arrival: arrivalId, expected } }).then(
        ({ items }) => {
          if (!current) return;
          setNucs(items.find((one) => one.arrivalId === arrivalId)?.nucs ?? []);
          setProblem('');
        },
        (error: unknown) => {
          if (current) setProblem(wordsOf(error));
        },
      );
    }, askAfterMs);
    return () => {
      current = false;
      clearTimeout(timer);
    };
  }, [arrivalId, expected]);
  if (problem !== '') return <p class="fault">{problem}</p>;
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
            {(one.late || one.order === null) && <Choices choices={one.choices} today={today} />}
          </li>
        ))}
      </ul>
    </>
  );
}
