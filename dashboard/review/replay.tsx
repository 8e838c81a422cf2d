/** What the rules would have raised with another limit. */
import { useState } from 'preact/hooks';
import type { BodyOf, ResponseOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { typedNumber } from '../format/typed.ts';
import { dayAndTime } from '../format/when.ts';
import { count } from '../format/units.ts';
import { Select, Stepper, Text } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
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
  const [answer, setAnswer] = useState<Replay | undefined>();
  const form = useForm({ nucId: '', days: 7, limit: '', value: '' }, async (values) => {
    if (one) setAnswer(await call('replay', { body: bodyOf(one.hive.id, values) }, 120_000));
  });
  const { values, field } = form;
  const one = items.find((each) => each.hive.id === values.nucId) ?? items[0];
  if (!one) return null;
  const limitOptions = rules.flatMap((rule) =>
    rule.fields.map((each) => ({
      value: `${rule.ruleId}/${each.name}`,
      words: `${rule.title}: ${each.about}, now ${String(each.value)} ${each.unit}`,
    })),
  );
  return (
    <div class="no-print">
      <p class="soft">
        Runs the rules of a nuc and its sensors again over past days. Nothing is stored, nobody is notified.
      </p>
      <Form of={form}>
        <div class="batch-fields">
          <Select
            label="Nuc"
            {...field('nucId')}
            value={one.hive.id}
            options={items.map((each) => ({
              value: each.hive.id,
              words: `${each.hive.name}, ${each.siteName}`,
            }))}
          />
          <Stepper label="Days back" {...field('days')} least={1} most={60} />
          <Select
            label="Limit"
            {...field('limit')}
            options={[{ value: '', words: 'as they are' }, ...limitOptions]}
          />
          {values.limit !== '' && <Text label="Try it at" {...field('value')} />}
        </div>
        <Submit of={form}>Run it</Submit>
      </Form>
      {answer && <Found answer={answer} zone={zoneOfSite(one.hive.siteId)} />}
    </div>
  );
}

interface Asked {
  readonly days: number;
  readonly limit: string;
  readonly value: string;
}

function bodyOf(nucId: string, { days, limit, value }: Asked): BodyOf<'replay'> {
  const to = serverNow.peek();
  const [ruleId = '', name = ''] = limit.split('/');
  const typed = typedNumber(value);
  return {
    nucId,
    from: new Date(to - days * dayMs).toISOString(),
    to: new Date(to).toISOString(),
    limits: limit !== '' && Number.isFinite(typed) ? { [ruleId]: { [name]: typed } } : {},
  };
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
