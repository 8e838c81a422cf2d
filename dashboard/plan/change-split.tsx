/** A planned split: another day, another delivery, or called off. Dates are shown before anything is stored. */
import { useState } from 'preact/hooks';
import type { BodyOf } from '../../server/contract/index.ts';
import type { NucForQueen } from '../../server/contract/plan.ts';
import { call } from '../api/client.ts';
import { localDate } from '../format/calendar.ts';
import { dateInWords } from '../format/when.ts';
import { Act } from '../parts/act.tsx';
import { Choice, Pick, Text } from '../parts/fields.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { arrivals, hives, nearPlan, nucs, queens } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { reloadPlan } from './plan-days.ts';
import { Dates, usePreview } from './preview.tsx';

interface ChangeSplitProps {
  readonly nuc: NucForQueen;
  readonly done: () => void;
}

export function ChangeSplit({ nuc, done }: ChangeSplitProps) {
  const deliveries = (useResource(arrivals).data?.items ?? []).filter((one) => one.state !== 'cancelled');
  const site = useResource(hives).data?.items.find((hive) => hive.id === nuc.nucId)?.siteId;
  const now = useResource(queens).data?.items.find((one) =>
    one.nucs.some(({ nucId }) => nucId === nuc.nucId),
  )?.arrivalId;
  const today = localDate(serverMinute.value, zoneOfSite(site));
  const [chosen, setArrivalId] = useState<string | undefined>();
  const arrivalId = chosen ?? now ?? '';
  const [follows, setFollows] = useState(nuc.splitFollows);
  const [splitOn, setSplitOn] = useState(nuc.splitOn !== null && nuc.splitOn > today ? nuc.splitOn : today);
  const [reason, setReason] = useState('');
  const own = !follows || arrivalId === '';
  const change = async (body: BodyOf<'changeIntroduction'>): Promise<void> => {
    await call('changeIntroduction', { params: { id: nuc.introductionId }, body });
    await Promise.all([queens.reload(), arrivals.reload(), nucs.reload(), nearPlan.reload(), reloadPlan()]);
    done();
  };
  const body: BodyOf<'changeIntroduction'> = {
    ...(arrivalId === (now ?? '') ? {} : { arrivalId: arrivalId === '' ? null : arrivalId }),
    ...(nuc.splitMade ? {} : { plannedSplit: own ? splitOn : null }),
  };
  return (
    <>
      <Pick
        label="Its queen comes with"
        value={arrivalId}
        onValue={setArrivalId}
        options={[
          ...deliveries.map((one) => ({
            value: one.id,
            words: `${one.name}, ${dateInWords(one.arrived ?? one.expected)}`,
          })),
          { value: '', words: 'no delivery' },
        ]}
      />
      {!nuc.splitMade && (
        <>
          {arrivalId !== '' && (
            <Choice
              label="The split is made"
              value={follows ? 'follows' : 'own'}
              onValue={(value) => {
                setFollows(value === 'follows');
              }}
              options={[
                { value: 'follows', words: 'a week before the delivery' },
                { value: 'own', words: 'on a day of its own' },
              ]}
            />
          )}
          {own && <Text type="date" label="Split on" value={splitOn} onValue={setSplitOn} min={today} />}
          <Preview
            nuc={nuc}
            siteId={site}
            arrivalId={arrivalId}
            splitOn={own ? splitOn : undefined}
            today={today}
          />
        </>
      )}
      <Act
        main
        run={() => change(body)}
        disabled={Object.keys(body).length === 0 || (own && !nuc.splitMade && splitOn === '')}
      >
        Change it
      </Act>
      {!nuc.splitMade && (
        <details>
          <summary>This split will not be made</summary>
          <Text label="Why, if you like" value={reason} onValue={setReason} />
          <Act
            run={() =>
              change({ calledOff: true, ...(reason.trim() === '' ? {} : { reason: reason.trim() }) })
            }
          >
            Call it off
          </Act>
        </details>
      )}
    </>
  );
}

interface PreviewProps {
  readonly nuc: NucForQueen;
  readonly siteId: string | undefined;
  readonly arrivalId: string;
  /** Absent: it follows the delivery. */
  readonly splitOn: string | undefined;
  readonly today: string;
}

function Preview({ nuc, siteId, arrivalId, splitOn, today }: PreviewProps) {
  const body: BodyOf<'previewBatch'> = {
    name: nuc.nucName,
    namePrefix: nuc.nucName.slice(0, 60),
    siteId: siteId ?? '',
    nucs: 1,
    planned: true,
    by: splitOn === undefined ? 'arrival' : 'split',
    ...(arrivalId === '' ? {} : { arrivalId }),
    ...(splitOn === undefined ? {} : { splitOn }),
  };
  const { preview, problem } = usePreview(body, siteId !== undefined && splitOn !== '');
  return (
    <div class="batch-dates" aria-live="polite">
      <h3>What follows</h3>
      {problem !== '' && <p class="fault">{problem}</p>}
      {preview && <Dates preview={preview} today={today} />}
    </div>
  );
}
