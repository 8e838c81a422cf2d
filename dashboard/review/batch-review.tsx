/** Looking back on one batch. */
import { useState } from 'preact/hooks';
import type { BatchReview } from '../../server/contract/review.ts';
import { byName } from '../format/names.ts';
import { dateInWords } from '../format/when.ts';
import { fixed, shownUnit } from '../format/units.ts';
import { Choice, Select, optionsOf } from '../parts/fields.tsx';
import { saveFile } from '../parts/save-file.ts';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { hashFor } from '../route.ts';
import { display } from '../state/session.ts';
import { outcomeWords } from '../words/labels.ts';
import { batchCsv } from './batch-csv.ts';
import { BatchDrawing } from './batch-drawing.tsx';
import { batchReviews } from './resources.ts';
import { shownValue } from './values.ts';

const quantities = {
  'brood-temperature': 'brood temperature',
  'brood-spread': 'swing within a day',
  'night-weight': 'weight at night',
} as const;

type BatchNuc = BatchReview['nucs'][number];

export function BatchSection() {
  const [batch, setBatch] = useState<string | undefined>();
  const [align, setAlign] = useState('release');
  const [quantity, setQuantity] = useState<keyof typeof quantities>('brood-temperature');
  const key = new URLSearchParams({
    alignedOn: align,
    quantity,
    ...(batch === undefined ? {} : { batch }),
  }).toString();
  return (
    <section class="card" aria-label="A batch">
      <h2>A batch, nuc by nuc</h2>
      <ResourceView of={batchReviews(key)} what="the batch">
        {(review) => (
          <>
            <div class="controls no-print">
              {review.batches.length > 1 && (
                <Select
                  label="Batch"
                  value={batch ?? review.batch ?? review.batches[0] ?? ''}
                  onValue={setBatch}
                  options={review.batches.map((name) => ({ value: name, words: name }))}
                />
              )}
              <Choice
                label="Aligned on"
                value={align}
                onValue={setAlign}
                options={[
                  { value: 'split', words: 'the split' },
                  { value: 'release', words: 'the release' },
                ]}
              />
              <Choice label="Shown" value={quantity} onValue={setQuantity} options={optionsOf(quantities)} />
            </div>
            {review.batches.length === 0 ? (
              <EmptyState title="No batch to look back on yet.">
                <p>Nucs planned together make a batch; after a few days it has a band of its own.</p>
              </EmptyState>
            ) : (
              <One review={review} spread={quantity === 'brood-spread'} />
            )}
          </>
        )}
      </ResourceView>
    </section>
  );
}

function One({ review, spread }: { review: BatchReview; spread: boolean }) {
  return (
    <>
      <p>{review.summary}</p>
      <BatchDrawing review={review} spread={spread} />
      {review.band.some((one) => one !== null) && (
        <p class="soft">
          The shade holds four in five nucs of this batch
          {review.nucs.some(({ outcome }) => isLost(outcome)) && ', lost ones left out'}.
        </p>
      )}
      <ul class="nuc-steps batch-nucs">
        {[...review.nucs]
          .sort((a, b) => oddness(b) - oddness(a) || byName(a.name, b.name))
          .map((nuc) => (
            <NucLine key={nuc.id} nuc={nuc} />
          ))}
      </ul>
      <details class="no-print">
        <summary>As a table</summary>
        <BatchTable review={review} spread={spread} />
      </details>
      <p class="row-acts">
        <button
          type="button"
          onClick={() => {
            saveFile('welcomb-batch.csv', batchCsv(review, spread, display.value), 'text/csv');
          }}
        >
          Save the batch as CSV
        </button>
      </p>
    </>
  );
}

/** Whom to look at first: outside the band, then lost. */
const oddness = ({ outsideSinceDay, outcome }: BatchNuc): number =>
  (outsideSinceDay === null ? 0 : 2) + (isLost(outcome) ? 1 : 0);
const isLost = (outcome: BatchNuc['outcome']): boolean => outcome != null && outcome !== 'accepted';

function NucLine({
  nuc: { id, name, outsideSinceDay, outcome, earlier = [], grafted = [], text },
}: {
  nuc: BatchNuc;
}) {
  const odd = outsideSinceDay !== null;
  const known = outcome != null;
  return (
    <li>
      <a href={hashFor('nucs', id)}>
        <bdi>{name}</bdi>
      </a>{' '}
      {known && <span class={isLost(outcome) ? 'lost' : 'soft'}>{outcomeWords[outcome]}</span>}
      {known && odd && ' · '}
      {(odd || !known) && <span class={odd ? '' : 'soft'}>{text}</span>}
      {earlier.length > 0 && (
        <span class="soft"> · before: {earlier.map((one) => outcomeWords[one]).join(', ')}</span>
      )}
      {grafted.length > 0 && <span class="soft"> · grafted {grafted.map(dateInWords).join(' and ')}</span>}
    </li>
  );
}

function BatchTable({ review, spread }: { review: BatchReview; spread: boolean }) {
  const show = (value: number | null | undefined): string =>
    value === null || value === undefined ? '' : fixed(shownValue(value, review, spread, display.value), 2);
  return (
    <div class="scroll-x tall" tabIndex={0} role="region" aria-label="The batch as a table">
      <table>
        <caption>{shownUnit(review.unit, display.value)}</caption>
        <thead>
          <tr>
            <th scope="col">day</th>
            <th scope="col">band, low</th>
            <th scope="col">middle</th>
            <th scope="col">high</th>
            {review.nucs.map((nuc) => (
              <th key={nuc.id} scope="col">
                <bdi>{nuc.name}</bdi>
              </th>
            ))}
          </tr>
        </thead>
        <tbody>
          {review.days.map((day, i) => (
            <tr key={day}>
              <th scope="row">{fixed(day, 0)}</th>
              <td>{show(review.band[i]?.low)}</td>
              <td>{show(review.band[i]?.middle)}</td>
              <td>{show(review.band[i]?.high)}</td>
              {review.nucs.map((nuc) => (
                <td key={nuc.id}>{show(nuc.values[i])}</td>
              ))}
            </tr>
          ))}
        </tbody>
      </table>
    </div>
  );
}
