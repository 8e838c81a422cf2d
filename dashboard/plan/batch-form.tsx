/** Several nucs at once for one delivery: dates are shown, and follow each change, before anything is made. */
import { useState } from 'preact/hooks';
import type { BodyOf } from '../../server/contract/index.ts';
import type { Arrival } from '../../server/contract/plan.ts';
import type { Site } from '../../server/contract/places.ts';
import type { IntroductionMethod, StartingPoint } from '../api/facts.ts';
import { call } from '../api/client.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { count } from '../format/units.ts';
import { dateInWords } from '../format/when.ts';
import { Act } from '../parts/act.tsx';
import { Choice, Pick, Stepper, Text } from '../parts/fields.tsx';
import { hashFor } from '../route.ts';
import { arrivals, hives, nearPlan, nucs, queens } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { methodWords, startingPointWords } from '../words/labels.ts';
import { reloadPlan } from './plan-days.ts';
import { Dates, usePreview } from './preview.tsx';

const optionsOf = (words: Readonly<Record<string, string>>) =>
  Object.entries(words).map(([value, text]) => ({ value, words: text }));

/** Those to come first, the next one before the later ones; then those that have come. */
function withFreeQueens(all: readonly Arrival[]): readonly Arrival[] {
  return all
    .filter((one) => one.state !== 'cancelled' && one.queens - one.dead > one.assigned)
    .sort(
      (a, b) =>
        Number(a.state === 'arrived') - Number(b.state === 'arrived') || a.expected.localeCompare(b.expected),
    );
}

interface BatchFormProps {
  readonly sites: readonly Site[];
  readonly arrivals: readonly Arrival[];
}

export function BatchForm({ sites, arrivals: all }: BatchFormProps) {
  const open = withFreeQueens(all);
  const first = open[0];
  const [arrivalId, setArrivalId] = useState(first?.id ?? '');
  const [siteId, setSiteId] = useState(sites[0]?.id ?? '');
  const zone = sites.find((site) => site.id === siteId)?.timeZone ?? 'UTC';
  const arrival = all.find((one) => one.id === arrivalId);
  const [number, setNumber] = useState(first ? Math.min(100, first.queens - first.dead - first.assigned) : 6);
  const [name, setName] = useState(first?.name ?? 'New batch');
  const [prefix, setPrefix] = useState('Nuc');
  const [start, setStart] = useState<StartingPoint>('planned-split');
  const [method, setMethod] = useState<IntroductionMethod>('candy-cage');
  const [splitOn, setSplitOn] = useState(() => addDays(localDate(serverNow.peek(), zone), 1));
  const [made, setMade] = useState<readonly string[] | undefined>();
  const body: BodyOf<'createBatch'> = {
    name: name.trim(),
    siteId,
    nucs: number,
    namePrefix: prefix.trim(),
    startingPoint: start,
    method,
    by: arrival ? 'arrival' : 'split',
    ...(arrival ? { arrivalId } : { splitOn }),
  };
  const ready =
    body.name !== '' && body.namePrefix !== '' && siteId !== '' && (arrival !== undefined || splitOn !== '');
  const { preview, problem } = usePreview(body, ready);
  if (made) {
    return (
      <div class="kept" role="status">
        <h3>{count(made.length, 'nuc')} planned.</h3>
        <p class="kept-next">
          <a class="button main" href={hashFor('nucs')}>
            See their rails
          </a>
          <button
            type="button"
            onClick={() => {
              setMade(undefined);
            }}
          >
            Plan another batch
          </button>
        </p>
      </div>
    );
  }
  return (
    <div class="batch">
      <div class="batch-fields">
        <Pick
          label="For"
          value={arrivalId}
          onValue={setArrivalId}
          options={[
            ...open.map((one) => ({
              value: one.id,
              words: `${one.name}, ${dateInWords(one.arrived ?? one.expected)}, ${count(one.queens - one.dead - one.assigned, 'queen')} free`,
            })),
            { value: '', words: 'no delivery: plan from the split' },
          ]}
        />
        {!arrival && <Text type="date" label="Split on" value={splitOn} onValue={setSplitOn} />}
        <Stepper label="How many nucs" value={number} onValue={setNumber} least={1} most={100} />
        <Pick
          label="Site"
          value={siteId}
          onValue={setSiteId}
          options={sites.map((site) => ({ value: site.id, words: site.name }))}
        />
        <Text label="Name of the batch" value={name} onValue={setName} />
        <Text
          label="Nucs are called"
          value={prefix}
          onValue={setPrefix}
          hint={`${prefix.trim()} 1, ${prefix.trim()} 2, …`}
        />
        <Choice
          label="They start as"
          value={start}
          onValue={(value) => {
            setStart(value as StartingPoint);
          }}
          options={optionsOf(startingPointWords)}
        />
        <Choice
          label="The queens go in by"
          value={method}
          onValue={(value) => {
            setMethod(value as IntroductionMethod);
          }}
          options={optionsOf(methodWords)}
        />
      </div>
      <div class="batch-dates" aria-live="polite">
        <h3>What follows</h3>
        {problem !== '' && <p class="fault">{problem}</p>}
        {preview && <Dates preview={preview} today={localDate(serverMinute.value, zone)} />}
        <Act
          main
          disabled={!preview || !ready}
          run={async () => {
            const { nucIds } = await call('createBatch', { body });
            setMade(nucIds);
            await Promise.all([
              nucs.reload(),
              hives.reload(),
              arrivals.reload(),
              nearPlan.reload(),
              queens.reload(),
              reloadPlan(),
            ]);
          }}
        >
          Plan {count(number, 'nuc')}
        </Act>
      </div>
    </div>
  );
}
