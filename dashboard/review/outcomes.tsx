/** What became of the queens, by group, each share with how far it can be trusted. */
import { useState } from 'preact/hooks';
import type { Outcomes } from '../../server/contract/review.ts';
import { Choice, optionsOf } from '../parts/fields.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { percent } from '../format/units.ts';
import { evenScale } from '../rail/frame.ts';
import { outcomesBy } from './resources.ts';

const groups = {
  source: 'source of the queen',
  method: 'method',
  strength: 'strength',
  season: 'season',
  'starting-point': 'start',
} as const;

export function OutcomesSection() {
  const [by, setBy] = useState<keyof typeof groups>('source');
  return (
    <section class="card" aria-label="Outcomes">
      <h2>What became of the queens</h2>
      <div class="no-print">
        <Choice label="By" value={by} onValue={setBy} options={optionsOf(groups)} />
      </div>
      <ResourceView of={outcomesBy(by)} what="the outcomes">
        {(data) => <Groups data={data} by={groups[by]} />}
      </ResourceView>
      <p class="row-acts">
        <a class="button" href="api/v1/export/outcomes.csv" download>
          Save as CSV
        </a>
        <button
          type="button"
          onClick={() => {
            print();
          }}
        >
          Print
        </button>
      </p>
    </section>
  );
}

function Groups({ data, by }: { data: Outcomes; by: string }) {
  if (data.items.length === 0) {
    return (
      <EmptyState title="No introduction has ended yet.">
        <p>Log how each one ended, and what worked shows here.</p>
      </EmptyState>
    );
  }
  return (
    <>
      <div class="scroll-x" tabIndex={0} role="region" aria-label={`Outcomes by ${by}`}>
        <table class="outcome-table">
          <thead>
            <tr>
              <th scope="col">{by}</th>
              <th scope="col">accepted</th>
              <th scope="col">lost</th>
              <th scope="col">open</th>
              <th scope="col">share accepted (range)</th>
            </tr>
          </thead>
          <tbody>
            {data.items.map((item) => (
              <tr key={item.group}>
                <th scope="row">
                  <bdi>{item.group}</bdi>
                </th>
                <td>{item.accepted}</td>
                <td>{item.lost}</td>
                <td>{item.open}</td>
                <td>
                  <Share item={item} />
                </td>
              </tr>
            ))}
          </tbody>
        </table>
      </div>
      <p>{data.text}</p>
      {data.comparison && <p>{data.comparison.text}</p>}
    </>
  );
}

function Share({ item }: { item: Outcomes['items'][number] }) {
  const { share, low, high } = item;
  if (share === null || low === null || high === null) return <span class="soft">none ended yet</span>;
  const x = evenScale(0, 1, 4, 136);
  return (
    <span class="share">
      <svg class="rail" width="140" height="18" viewBox="0 0 140 18" aria-hidden="true">
        <path class="line" d="M4 9H136M4 5V13M70 7V11M136 5V13" />
        <path class="interval" d={`M${String(x(low))} 9H${String(x(high))}`} />
        <circle class="trace-dot" cx={x(share)} cy="9" r="4.5" />
      </svg>
      {percent(share)}{' '}
      <span class="soft">
        ({percent(low)} to {percent(high)})
      </span>
    </span>
  );
}
