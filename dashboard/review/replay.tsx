/** What the rules would have raised with another limit. */
import { useState } from 'preact/hooks';
import type { BodyOf, ResponseOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { typedNumber } from '../format/typed.ts';
import { dayAndTime, inHours } from '../format/when.ts';
import { count, limitIn } from '../format/units.ts';
import { NumberText, Select, Stepper } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { nucs } from '../state/farm.ts';
import { serverMinute, serverNow } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { display } from '../state/session.ts';
import { limits } from './resources.ts';

type Replay = ResponseOf<'replay'>;
type Rule = ResponseOf<'listLimits'>['items'][number];
type Limit = Rule['fields'][number];
const dayMs = 86_400_000;

export function ReplaySection() {
  const items = useResource(nucs).data?.items ?? [];
  const rules = useResource(limits).data?.items ?? [];
  const [answer, setAnswer] = useState<{ readonly to: unknown; readonly replay: Replay } | undefined>();
  const form = useForm({ nucId: '', days: 7, limit: '', value: '' }, async (asked) => {
    if (!one) return;
    const body = bodyOf(one.hive.id, asked.days, tried);
    setAnswer({ to: asked, replay: await call('replay', { body }, 120_000) });
  });
  const { values, field } = form;
  const choices = rules.flatMap((rule) => rule.fields.map((limit) => choiceOf(rule, limit)));
  const choice = choices.find(({ key }) => key === values.limit);
  const tried = choice && triedAt(choice, values.value);
  const fits = !tried || (tried.value >= tried.limit.min && tried.value <= tried.limit.max);
  const one = items.find((each) => each.hive.id === values.nucId) ?? items[0];
  if (!one) return null;
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
            label="Another limit"
            {...field('limit')}
            options={[
              { value: '', words: 'none: all as they are' },
              ...choices.map(({ key, words }) => ({ value: key, words })),
            ]}
          />
          {choice && (
            <NumberText
              label={`Try it at${choice.shown.unit === '' ? '' : `, ${choice.shown.unit}`}`}
              {...field('value')}
              fault={fits || values.value === '' ? undefined : `It has to lie between ${choice.range}.`}
            />
          )}
        </div>
        <Submit of={form} disabled={!fits}>
          Run it
        </Submit>
      </Form>
      {/* Of another nuc, or other days, it would be no answer. */}
      {answer?.to === values && <Found answer={answer.replay} zone={zoneOfSite(one.hive.siteId)} />}
    </div>
  );
}

function choiceOf(rule: Rule, limit: Limit) {
  const shown = limitIn(limit.unit, display.value);
  const unit = shown.unit === '' ? '' : ` ${shown.unit}`;
  return {
    rule,
    limit,
    shown,
    key: `${rule.ruleId}/${limit.name}`,
    words: `${rule.title}: ${limit.about}, now ${String(shown.of(limit.value))}${unit}${limit.unit === 'min' ? inHours(limit.value) : ''}`,
    range: `${String(shown.of(limit.min))} and ${String(shown.of(limit.max))}${unit}`,
  };
}

type Choice = ReturnType<typeof choiceOf>;
type Tried = Pick<Choice, 'rule' | 'limit'> & { readonly value: number };

/** `value` is no number where none is typed. */
const triedAt = ({ rule, limit, shown }: Choice, typed: string): Tried => ({
  rule,
  limit,
  value: shown.back(typedNumber(typed), limit),
});

function bodyOf(nucId: string, days: number, tried: Tried | undefined): BodyOf<'replay'> {
  const to = serverNow.peek();
  return {
    nucId,
    from: new Date(to - days * dayMs).toISOString(),
    to: new Date(to).toISOString(),
    limits: tried ? { [tried.rule.ruleId]: { [tried.limit.name]: tried.value } } : {},
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
