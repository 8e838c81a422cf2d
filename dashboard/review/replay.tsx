/** What the rules would have raised with another limit. */
import { useState } from 'preact/hooks';
import type { ResponseOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { dayAndTime } from '../format/when.ts';
import { count } from '../format/units.ts';
import { Act } from '../parts/act.tsx';
import { Pick, Stepper, Text } from '../parts/fields.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { nucs } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { limits } from './resources.ts';

type Replay = ResponseOf<'replay'>;
const dayMs = 86_400_000;

export function ReplaySection() {
  const items = useResource(nucs).data?.items ?? [];
  const rules = useResource(limits).data?.items ?? [];
  const [nucId, setNucId] = useState('');
  const [days, setDays] = useState(7);
  const [field, setField] = useState('');
  const [value, setValue] = useState('');
  const [answer, setAnswer] = useState<Replay | undefined>();
  const one = items.find((each) => each.hive.id === nucId) ?? items[0];
  if (!one) return null;
  const fields = rules.flatMap((rule) =>
    rule.fields.map((each) => ({
      value: `${rule.ruleId}/${each.name}`,
      words: `${rule.title}: ${each.about}, now ${String(each.value)} ${each.unit}`,
    })),
  );
  const run = async (): Promise<void> => {
    const to = serverNow.peek();
    const [ruleId = '', name = ''] = field.split('/');
    const typed = Number(value.replace(',', '.'));
    const changed = field !== '' && value.trim() !== '' && Number.isFinite(typed);
    setAnswer(
      await call(
        'replay',
        {
          body: {
            nucId: one.hive.id,
            from: new Date(to - days * dayMs).toISOString(),
            to: new Date(to).toISOString(),
            limits: changed ? { [ruleId]: { [name]: typed } } : {},
          },
        },
        120_000,
      ),
    );
  };
  return (
    <section class="card no-print" aria-label="Replay">
      <h2>Had a limit been another</h2>
      <p class="soft">
        Runs the rules about the nuc and its sensors again over past days; nothing is stored and nobody is
        told. What concerns its site or this server is left out.
      </p>
      <div class="batch-fields">
        <Pick
          label="Nuc"
          value={one.hive.id}
          onValue={setNucId}
          options={items.map((each) => ({
            value: each.hive.id,
            words: `${each.hive.name}, ${each.siteName}`,
          }))}
        />
        <Stepper label="Days back" value={days} onValue={setDays} least={1} most={60} />
        <Pick
          label="Limit"
          value={field}
          onValue={setField}
          options={[{ value: '', words: 'as they are' }, ...fields]}
        />
        {field !== '' && <Text label="Try it at" value={value} onValue={setValue} />}
      </div>
      <Act main run={run}>
        Run it
      </Act>
      {answer && <Found answer={answer} zone={zoneOfSite(one.hive.siteId)} />}
    </section>
  );
}

function Found({ answer, zone }: { answer: Replay; zone: string }) {
  const now = serverMinute.value;
  return (
    <div role="status">
      <p>
        {count(answer.items.length, 'alert')} with these limits, looked at {count(answer.ticks, 'instant')}.{' '}
        {answer.onlyReally.length > 0 &&
          `${count(answer.onlyReally.length, 'alert')} really raised would be missing.`}
      </p>
      <ul>
        {answer.items.map((item) => (
          <li key={`${item.ruleId}${item.subject.id}${item.raisedAt}`}>
            <b>{item.title}</b>, {item.subject.kind !== 'nuc' && `${item.subject.name}, `}
            {dayAndTime(Date.parse(item.raisedAt), zone, now)}
            {item.clearedAt !== null && ` to ${dayAndTime(Date.parse(item.clearedAt), zone, now)}`}:{' '}
            {item.text}.{' '}
            <span class="soft">{item.reallyRaised ? 'Was raised as well.' : 'Was not raised.'}</span>
          </li>
        ))}
      </ul>
    </div>
  );
}
