/** A sheet of labels to print: one a nuc, and scanning it opens that nuc's log. */
import { useState } from 'preact/hooks';
import type { NucSummary } from '../../server/contract/nucs.ts';
import { pageBase } from '../api/client.ts';
import { byName } from '../format/names.ts';
import { cleanAddress, isThisMachine, labelAddress } from '../labels/address.ts';
import { QrCode } from '../labels/qr-code.tsx';
import { Checkbox, Choice, Text } from '../parts/fields.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { nucs } from '../state/farm.ts';

const papers = { a4: 'A4', letter: 'Letter' } as const;
type Paper = keyof typeof papers;

export default function Labels() {
  return (
    <>
      <header class="page-head no-print">
        <h1>Labels</h1>
        <p class="soft">Print, cut, stick one on each box. Scanning it opens that nuc’s log.</p>
      </header>
      <ResourceView of={nucs} what="the nucs">
        {({ items }) => (items.length === 0 ? <EmptyState title="No nuc yet." /> : <Sheet items={items} />)}
      </ResourceView>
    </>
  );
}

const usualPaper = (): Paper => (/-(US|CA|MX|PH)$/.test(navigator.language) ? 'letter' : 'a4');

function Sheet({ items }: { items: readonly NucSummary[] }) {
  const [paper, setPaper] = useState<Paper>(usualPaper);
  const [typed, setTyped] = useState(pageBase);
  const [left, setLeft] = useState<ReadonlySet<string>>(new Set());
  const base = cleanAddress(typed);
  const named = [...items].sort((a, b) => byName(a.siteName, b.siteName) || byName(a.hive.name, b.hive.name));
  const toggle = (id: string, wanted: boolean): void => {
    const next = new Set(left);
    if (wanted) next.delete(id);
    else next.add(id);
    setLeft(next);
  };
  return (
    <>
      <div class="form no-print">
        <Choice
          label="Paper"
          value={paper}
          onValue={setPaper}
          options={Object.entries(papers).map(([value, words]) => ({ value: value as Paper, words }))}
        />
        <Text
          type="url"
          label="Address in the codes"
          value={typed}
          onValue={setTyped}
          fault={base === undefined ? 'This is no address that starts with http:// or https://.' : undefined}
        />
        {base !== undefined && isThisMachine(base) && (
          <p class="notice">A phone can’t reach this address. Type the name or number that phones use.</p>
        )}
        <details>
          <summary>Which nucs</summary>
          {named.map(({ hive }) => (
            <Checkbox
              key={hive.id}
              label={hive.name}
              value={!left.has(hive.id)}
              onValue={(wanted) => {
                toggle(hive.id, wanted);
              }}
            />
          ))}
        </details>
        <p>
          <button
            type="button"
            class="main"
            disabled={base === undefined}
            onClick={() => {
              print();
            }}
          >
            Print the labels
          </button>
        </p>
      </div>
      {base !== undefined && (
        <ul class={`labels ${paper}`} aria-label="Labels">
          {named
            .filter(({ hive }) => !left.has(hive.id))
            .map(({ hive, siteName }) => (
              <li key={hive.id}>
                <QrCode
                  text={labelAddress(base, hive.id)}
                  label={`Code that opens the log of ${hive.name}`}
                />
                <b>
                  <bdi>{hive.name}</bdi>
                </b>
                <span>
                  <bdi>{siteName}</bdi>
                </span>
              </li>
            ))}
        </ul>
      )}
    </>
  );
}
