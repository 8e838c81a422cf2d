import { useState } from 'preact/hooks';
import type { BodyOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { Choice, Select, Text, optionsOf } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { Term } from '../parts/term.tsx';
import { typedNumber } from '../format/typed.ts';
import { fromShown, shownUnit } from '../format/units.ts';
import { nucsChanged, sites } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { display, loadMe } from '../state/session.ts';
import { newId } from '../visit/new-id.ts';

type Box = NonNullable<BodyOf<'addHive'>['box']>;
const boxes: Readonly<Record<Box, string>> = {
  wood: 'wood',
  polystyrene: 'polystyrene',
  other: 'something else',
};

export function FirstNuc() {
  return (
    <>
      <p>
        A <Term word="nuc" /> is known by its box. Queens come and go in it.
      </p>
      <NucForm />
    </>
  );
}

function NucForm() {
  const all = useResource(sites).data?.items ?? [];
  const [id] = useState(newId);
  const form = useForm({ name: '', siteId: '', box: 'wood' as Box, empty: '' }, async ({ name, box }) => {
    await call('addHive', {
      body: {
        ...{ id, name: name.trim(), siteId, role: 'nuc', box },
        ...(isWeighed ? { emptyKg: fromShown(weight, 'kg', display.value) } : {}),
      },
    });
    await Promise.all([nucsChanged(), loadMe()]);
  });
  const { values, field } = form;
  const siteId = all.some((each) => each.id === values.siteId) ? values.siteId : (all[0]?.id ?? '');
  const weight = typedNumber(values.empty);
  const isWeighed = values.empty.trim() !== '';
  const wrong = isWeighed && !(weight >= 0);
  return (
    <Form of={form}>
      <Text label="Its name or number" {...field('name')} />
      <Select
        label="Site"
        {...field('siteId')}
        value={siteId}
        options={all.map((each) => ({ value: each.id, words: each.name }))}
      />
      <Choice label="The box is of" {...field('box')} options={optionsOf(boxes)} />
      <Text
        label={`Empty box with frames and floor, ${shownUnit('kg', display.value)}`}
        {...field('empty')}
        hint="if you know it; without it stores can’t be told from wood"
        fault={wrong ? 'A weight, please.' : undefined}
      />
      <Submit of={form} disabled={values.name.trim() === '' || siteId === '' || wrong}>
        Add the nuc
      </Submit>
    </Form>
  );
}
