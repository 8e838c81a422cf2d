/** A delivery of queens: new, or changed; the plans of its nucs follow. */
import { useState } from 'preact/hooks';
import type { Arrival } from '../../server/contract/plan.ts';
import { call } from '../api/client.ts';
import { addDays, localDate } from '../format/calendar.ts';
import { Act } from '../parts/act.tsx';
import { Caution } from '../parts/caution.tsx';
import { Choice, LongText, Stepper, Text } from '../parts/fields.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { arrivals, nearPlan, nucs, queens as queensForNucs } from '../state/farm.ts';
import { serverNow } from '../state/live.ts';
import { newId } from '../visit/new-id.ts';
import { reloadPlan } from './plan-days.ts';
import { WhatFollows } from './what-follows.tsx';

export const stateWords: Readonly<Record<Arrival['state'], string>> = {
  ordered: 'on order',
  delayed: 'delayed',
  arrived: 'arrived',
  cancelled: 'cancelled',
};
const daysAhead = 14;

interface ArrivalFormProps {
  readonly arrival?: Arrival;
  readonly done: () => void;
}

export function ArrivalForm({ arrival, done }: ArrivalFormProps) {
  const today = localDate(serverNow.peek(), zoneOfSite(undefined));
  const [id] = useState(() => arrival?.id ?? newId());
  const [name, setName] = useState(arrival?.name ?? '');
  const [source, setSource] = useState(arrival?.source ?? '');
  const [expected, setExpected] = useState(arrival?.expected ?? addDays(today, daysAhead));
  const [arrived, setArrived] = useState(arrival?.arrived ?? today);
  const [queens, setQueens] = useState(arrival?.queens ?? 6);
  const [dead, setDead] = useState(arrival?.dead ?? 0);
  const [state, setState] = useState<Arrival['state']>(arrival?.state ?? 'ordered');
  const [note, setNote] = useState(arrival?.note ?? '');
  const save = async (): Promise<void> => {
    const body = {
      name: name.trim(),
      source: source.trim(),
      expected,
      queens,
      state,
      dead,
      ...(state === 'arrived' ? { arrived } : {}),
      ...(note.trim() === '' ? {} : { note: note.trim() }),
    };
    if (arrival) await call('changeArrival', { params: { id }, body });
    else await call('addArrival', { body: { ...body, id } });
    await Promise.all([
      arrivals.reload(),
      nucs.reload(),
      nearPlan.reload(),
      queensForNucs.reload(),
      reloadPlan(),
    ]);
    done();
  };
  return (
    <>
      <Text label="What you call it" value={name} onValue={setName} hint="such as June delivery" />
      <Text label="Breeder or line" value={source} onValue={setSource} />
      <Text type="date" label="Expected on" value={expected} onValue={setExpected} />
      {arrival && state !== 'arrived' && state !== 'cancelled' && (
        <WhatFollows arrival={arrival} expected={expected} />
      )}
      <Stepper label="Queens" value={queens} onValue={setQueens} least={1} most={500} />
      <Choice
        label="It is"
        value={state}
        onValue={(value) => {
          setState(value as Arrival['state']);
        }}
        options={Object.entries(stateWords).map(([value, words]) => ({ value, words }))}
      />
      {state === 'arrived' && (
        <>
          <Text type="date" label="Arrived on" value={arrived} onValue={setArrived} />
          <Stepper label="Dead on arrival" value={dead} onValue={setDead} most={queens} />
        </>
      )}
      <LongText label="Note" value={note} onValue={setNote} />
      <Caution about="imports" />
      <Act main run={save} disabled={name.trim() === '' || expected === ''}>
        {arrival ? 'Change it; plans follow' : 'Add it'}
      </Act>
    </>
  );
}
