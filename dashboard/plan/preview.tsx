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

interface DatesProps {
  readonly preview: BatchPreview;
  readonly today: string;
  /** As it stands: what moves is shown with the day that it leaves. */
  readonly before?: BatchPreview | undefined;
}

export function Dates({ preview, today, before }: DatesProps) {
  const was = new Map(before?.steps.map(({ kind, target }) => [kind, target]));
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
            <Moved from={was.get(step.kind)} to={step.target} />
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

const Moved = ({ from, to }: { from: string | undefined; to: string }) =>
  from === undefined || from === to ? null : <span class="moved"> was {dateInWords(from)}</span>;
