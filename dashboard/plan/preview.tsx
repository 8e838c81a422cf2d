/** Dates that would follow, asked for while somebody still moves them; nothing is stored. */
import { useEffect, useState } from 'preact/hooks';
import type { BodyOf } from '../../server/contract/index.ts';
import type { BatchPreview } from '../../server/contract/plan.ts';
import { call } from '../api/client.ts';
import { wordsOf } from '../api/trouble.ts';
import { dateInWords, relativeDate } from '../format/when.ts';

const previewAfterMs = 250;

export function usePreview(body: BodyOf<'previewBatch'>, ready: boolean) {
  const [preview, setPreview] = useState<BatchPreview | undefined>();
  const [problem, setProblem] = useState('');
  const key = JSON.stringify(body);
  useEffect(() => {
    if (!ready) return undefined;
    let current = true;
    const timer = setTimeout(() => {
      call('previewBatch', { body }).then(
        (answer) => {
          if (!current) return;
          setPreview(answer);
          setProblem('');
        },
        (error: unknown) => {
          if (!current) return;
          setPreview(undefined);
          setProblem(wordsOf(error));
        },
      );
    }, previewAfterMs);
    return () => {
      current = false;
      clearTimeout(timer);
    };
  }, [key, ready]);
  return { preview, problem };
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
