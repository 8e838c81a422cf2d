/** The limits of the rules: for the farm, a site, or one nuc. */
import { useState } from 'preact/hooks';
import type { ResponseOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { typedNumber } from '../format/typed.ts';
import { count, limitIn } from '../format/units.ts';
import { dayAndTime, deviceZone, inHours } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { NumberText, Select } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { ResourceView } from '../parts/resource-view.tsx';
import { nucs, sites } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { resource, resourceFamily, useResource } from '../state/resource.ts';
import { display, mayKeep } from '../state/session.ts';

type Rule = ResponseOf<'listLimits'>['items'][number];
type Field = Rule['fields'][number];

/** `farm`, `site:ID` or `nuc:ID`. */
const limitsAt = resourceFamily((scope) => {
  const [kind, id = ''] = scope.split(':');
  return call('listLimits', { query: kind === 'farm' ? {} : kind === 'site' ? { site: id } : { nuc: id } });
});
const changes = resource(() => call('listChanges', {}));

export function Limits() {
  const [scope, setScope] = useState('farm');
  const allSites = useResource(sites).data?.items ?? [];
  const allNucs = useResource(nucs).data?.items ?? [];
  return (
    <section class="card" aria-label="Limits">
      <h2>Limits of the alerts</h2>
      <Select
        label="For"
        value={scope}
        onValue={setScope}
        options={[
          { value: 'farm', words: 'the whole farm' },
          ...allSites.map((site) => ({ value: `site:${site.id}`, words: `site ${site.name}` })),
          ...allNucs.map((one) => ({ value: `nuc:${one.hive.id}`, words: `nuc ${one.hive.name}` })),
        ]}
      />
      <ResourceView key={scope} of={limitsAt(scope)} what="the limits">
        {(data) => (
          <>
            {data.items.filter(isChanged).map((rule) => (
              <RuleLimits key={rule.ruleId} rule={rule} scope={scope} />
            ))}
            <Unchanged rules={data.items.filter((rule) => !isChanged(rule))} scope={scope} />
          </>
        )}
      </ResourceView>
      <Changes />
    </section>
  );
}

const isOff = (rule: Rule): boolean => rule.fields.some(({ name, value }) => name === 'on' && value < 1);
const isChanged = (rule: Rule): boolean => rule.fields.some((field) => field.setAt !== 'standard');

function Unchanged({ rules, scope }: { rules: readonly Rule[]; scope: string }) {
  if (rules.length === 0) return null;
  return (
    <details>
      <summary>{count(rules.length, 'rule')} with default limits</summary>
      {rules.map((rule) => (
        <RuleLimits key={rule.ruleId} rule={rule} scope={scope} />
      ))}
    </details>
  );
}

function RuleLimits({ rule, scope }: { rule: Rule; scope: string }) {
  return (
    <details>
      <summary>
        {rule.title}
        {isChanged(rule) && <span class="changed-at">&nbsp;changed{isOff(rule) && ', off'}</span>}
      </summary>
      <p class="soft">{rule.about}</p>
      {rule.fields.map((field) =>
        field.name === 'on' ? (
          <Switch key={field.name} rule={rule} field={field} scope={scope} />
        ) : (
          <Limit
            key={`${scope}${field.name}${String(field.value)}`}
            rule={rule}
            field={field}
            scope={scope}
          />
        ),
      )}
    </details>
  );
}

const setAtWords = {
  standard: 'by default',
  farm: 'set for the farm',
  site: 'set for the site',
  nuc: 'set for this nuc',
} as const;

const inFigures = (value: number): string => String(value).replace('-', '−');

interface LimitProps {
  readonly rule: Rule;
  readonly field: Field;
  readonly scope: string;
}

/** Null: back to the default. */
async function put({ rule, field, scope }: LimitProps, value: number | null): Promise<void> {
  const [kind = 'farm', scopeId] = scope.split(':');
  await call('putLimit', {
    body: {
      scope: kind as 'farm' | 'site' | 'nuc',
      ...(scopeId === undefined ? {} : { scopeId }),
      ruleId: rule.ruleId,
      field: field.name,
      value,
    },
  });
  await Promise.all([limitsAt(scope).reload(), changes.reload()]);
}

const isSetHere = ({ field, scope }: LimitProps): boolean => field.setAt === scope.split(':')[0];

function Switch(limit: LimitProps) {
  const { rule, field } = limit;
  const isOn = field.value >= 1;
  return (
    <p class="row-acts">
      {isOn ? 'This rule is on.' : `This rule is off, ${setAtWords[field.setAt]}.`}
      {mayKeep.value && (
        <ActionButton run={() => put(limit, isOn ? 0 : isSetHere(limit) ? null : 1)}>
          Turn it {isOn ? 'off' : 'on'}
          <span class="hidden-words">: {rule.title}</span>
        </ActionButton>
      )}
    </p>
  );
}

function Limit(limit: LimitProps) {
  const { field } = limit;
  const shown = limitIn(field.unit, display.value);
  const before = String(shown.of(field.value));
  // Untouched, it stays what it is, to the last digit.
  const valueOf = (typed: string): number =>
    typed === before ? field.value : shown.back(typedNumber(typed), field);
  const form = useForm({ typed: before }, ({ typed }) => put(limit, valueOf(typed)));
  const value = valueOf(form.values.typed);
  const fits = value >= field.min && value <= field.max;
  const words = (bound: number): string =>
    `${inFigures(shown.of(bound))}${field.unit === 'min' ? inHours(bound) : ''}`;
  const [least, most] = [words(field.min), words(field.max)];
  return (
    <Form of={form} class="limit">
      <NumberText
        label={`${field.about}${shown.unit === '' ? '' : `, ${shown.unit}`}`}
        {...form.field('typed')}
        hint={`${field.setAt === 'standard' ? '' : `${setAtWords[field.setAt]}; `}default ${words(field.standard)}, ${least} to ${most}`}
        fault={fits ? undefined : `It has to lie between ${least} and ${most}.`}
      />
      {mayKeep.value && (
        <p class="row-acts">
          <Submit of={form} main={false} disabled={!fits || value === field.value}>
            Set it<span class="hidden-words">: {field.about}</span>
          </Submit>
          {isSetHere(limit) && (
            <ActionButton run={() => put(limit, null)}>
              Back to default<span class="hidden-words">: {field.about}</span>
            </ActionButton>
          )}
        </p>
      )}
    </Form>
  );
}

function Changes() {
  const [open, setOpen] = useState(false);
  return (
    <details
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>What was changed, when, by whom</summary>
      {open && (
        <ResourceView of={changes} what="the changes">
          {(data) => (
            <ul class="settings-list">
              {data.items.map((one) => (
                <li key={`${one.at}${one.what}`}>
                  <span class="soft">
                    {dayAndTime(Date.parse(one.at), deviceZone(), serverMinute.value)}, <bdi>{one.by}</bdi>:
                  </span>{' '}
                  {one.what}
                </li>
              ))}
            </ul>
          )}
        </ResourceView>
      )}
    </details>
  );
}
