/** Dates that would follow, asked for while somebody still moves them; nothing is stored. */
import type { BodyOf } from '../../server/contract/index.ts';
import type { BatchPreview } from '../../server/contract/plan.ts';
import { call } from '../api/client.ts';
import { dateInWords, relativeDate } from '../format/when.ts';
import { resourceFamily, useAnswer } from '../state/resource.ts';

const previews = resourceFamily(
  (key) => call('previewBatch', { body: JSON.parse(key) as BodyOf<'previewBatch'> }),
  { changedBy: ({ type }) => type === 'nuc' },
);

/** `undefined` while something is missing. */
export function usePreview(body: BodyOf<'previewBatch'> | undefined) {
  const { data, trouble } = useAnswer(previews, body);
  return { preview: trouble ? undefined : data, problem: trouble?.message };
}

export function Dates({ preview, today }: { preview: BatchPreview; today: string }) {
  return (
    <>
      {preview.splitOn < today && (
        <p class="clash">
          <b>Too late for this.</b> The split would have had to be made {dateInWords(preview.splitOn)}.
        </p>
      )}
      {preview.clashes.map((clash) => (
        <p key={clash} class="clash">
          <b>Clash.</b> {clash}
        </p>
      ))}
      <ol class="dates">
        {preview.steps.map((step) => (
          <li key={`${step.kind}${step.target}`}>
            <b>{relativeDate(step.target, today)}</b> {step.label}
            {step.earliest !== step.latest && (
              <span class="soft">
                {' '}
                ({dateInWords(step.earliest)} to {dateInWords(step.latest)})
              </span>
            )}
          </li>
        ))}
      </ol>
    </>
  );
}
