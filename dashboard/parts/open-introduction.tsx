/** Where a nuc has no introduction under way: how it starts. */
import { useState } from 'preact/hooks';
import type { NucDetail } from '../../server/http/contract/nucs.ts';
import type { IntroductionMethod, StartingPoint } from '../api/facts.ts';
import { call } from '../api/client.ts';
import { instantAt, localDate } from '../format/calendar.ts';
import { nuc, nucs } from '../state/farm.ts';
import { serverNow } from '../state/live.ts';
import { newId } from '../visit/new-id.ts';
import { methodWords, startingPointWords } from '../words/labels.ts';
import { Act } from './act.tsx';
import { Choice, Text } from './fields.tsx';
import { zoneOfSite } from './site-zone.ts';

const optionsOf = (words: Readonly<Record<string, string>>) =>
  Object.entries(words).map(([value, text]) => ({ value, words: text }));

export function OpenIntroduction({ one }: { one: NucDetail }) {
  const zone = zoneOfSite(one.hive.siteId);
  const [id] = useState(newId);
  const [start, setStart] = useState<StartingPoint>('planned-split');
  const [method, setMethod] = useState<IntroductionMethod>('candy-cage');
  const [day, setDay] = useState(() => localDate(serverNow.peek(), zone));
  const open = async (): Promise<void> => {
    await call('openIntroduction', {
      params: { id: one.hive.id },
      body: {
        id,
        startingPoint: start,
        method,
        ...(start === 'planned-split'
          ? { plannedSplit: new Date(instantAt(day, '12:00', zone)).toISOString() }
          : {}),
      },
    });
    await Promise.all([nuc(one.hive.id).reload(), nucs.reload()]);
  };
  return (
    <section class="card" aria-label="Open an introduction">
      <h2>Open an introduction</h2>
      <p>No queen is being introduced here. Say where this colony stands, and the plan follows from it.</p>
      <Choice
        label="It starts as"
        value={start}
        onValue={(value) => {
          setStart(value as StartingPoint);
        }}
        options={optionsOf(startingPointWords)}
      />
      <Choice
        label="The queen goes in by"
        value={method}
        onValue={(value) => {
          setMethod(value as IntroductionMethod);
        }}
        options={optionsOf(methodWords)}
      />
      {start === 'planned-split' && (
        <Text type="date" label="Day of the split" value={day} onValue={setDay} />
      )}
      <Act main run={open}>
        Open it
      </Act>
    </section>
  );
}
