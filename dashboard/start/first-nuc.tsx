import { useState } from 'preact/hooks';
import type { BodyOf } from '../../server/contract/index.ts';
import { call } from '../api/client.ts';
import { Act } from '../parts/act.tsx';
import { Choice, Pick, Text } from '../parts/fields.tsx';
import { Term } from '../parts/term.tsx';
import { fromShown, shownUnit } from '../format/units.ts';
import { hives, nucs, sites } from '../state/farm.ts';
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
      <NucForm done={() => void loadMe()} />
    </>
  );
}

function NucForm({ done }: { done: (id: string) => void }) {
  const all = useResource(sites).data?.items ?? [];
  const [id] = useState(newId);
  const [name, setName] = useState('');
  const [siteId, setSiteId] = useState('');
  const [box, setBox] = useState<Box>('wood');
  const [empty, setEmpty] = useState('');
  const site = all.some((each) => each.id === siteId) ? siteId : (all[0]?.id ?? '');
  const weight = Number(empty.replace(',', '.'));
  const save = async (): Promise<void> => {
    const emptyKg = fromShown(weight, 'kg', display.value);
    await call('addHive', {
      body: {
        id,
        name: name.trim(),
        siteId: site,
        role: 'nuc',
        box,
        ...(empty.trim() === '' ? {} : { emptyKg }),
      },
    });
    await Promise.all([hives.reload(), nucs.reload()]);
    done(id);
  };
  return (
    <>
      <Text label="Its name or number" value={name} onValue={setName} />
      <Pick
        label="Site"
        value={site}
        onValue={setSiteId}
        options={all.map((each) => ({ value: each.id, words: each.name }))}
      />
      <Choice
        label="The box is of"
        value={box}
        onValue={(value) => {
          setBox(value as Box);
        }}
        options={Object.entries(boxes).map(([value, words]) => ({ value, words }))}
      />
      <Text
        label={`Empty box with frames and floor, ${shownUnit('kg', display.value)}`}
        value={empty}
        onValue={setEmpty}
        hint="if you know it; without it stores can’t be told from wood"
        fault={empty.trim() !== '' && !(weight >= 0) ? 'A weight, please.' : undefined}
      />
      <Act
        main
        run={save}
        disabled={name.trim() === '' || site === '' || (empty.trim() !== '' && !(weight >= 0))}
      >
        Add the nuc
      </Act>
    </>
  );
}
