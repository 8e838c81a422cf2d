/** From an empty server to the first nuc on a rail, one step after the other. */
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { FirstNuc } from '../start/first-nuc.tsx';
import { FirstSplit } from '../start/first-split.tsx';
import { FromBackup } from '../start/from-backup.tsx';
import { SetUp } from '../start/set-up.tsx';
import { hashFor } from '../route.ts';
import { channels, nucs } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { loadMe, mayKeep, me } from '../state/session.ts';

interface Step {
  readonly key: 'setUp' | 'nuc' | 'split';
  readonly title: string;
  readonly body: ComponentChildren;
}

const steps: readonly Step[] = [
  { key: 'setUp', title: 'A password and your first site', body: <SetUp /> },
  { key: 'nuc', title: 'The first nuc and its sensor', body: <FirstNuc /> },
  { key: 'split', title: 'The first split', body: <FirstSplit /> },
];

export default function Start() {
  // A sensor that reports, or a nuc that was made, moves the steps on by itself.
  const channelCount = useResource(channels).data?.items.length;
  const nucCount = useResource(nucs).data?.items.length;
  useEffect(() => void loadMe(), [channelCount, nucCount]);
  const setUp = me.value?.setUp;
  if (!setUp) return null;
  const done = { setUp: setUp.password && setUp.site, nuc: setUp.nuc, split: setUp.split };
  const open = steps.find(({ key }) => !done[key]);
  return (
    <>
      <header class="page-head">
        <h1>First steps</h1>
        <p>
          Three steps to your first readings. To look around first, start <code>welcomb demo</code>: an
          invented farm.
        </p>
      </header>
      <ol class="first-steps">
        {steps.map((step, i) => (
          <li
            key={step.key}
            class={step === open ? 'card open' : 'card'}
            aria-current={step === open ? 'step' : undefined}
          >
            <h2>
              {i + 1}. {step.title} {done[step.key] && <span class="soft">done</span>}
            </h2>
            {step === open && step.body}
          </li>
        ))}
      </ol>
      {!setUp.site && mayKeep.value && <FromBackup />}
      {!open && (
        <p>
          <a class="button main" href={hashFor('nucs')}>
            See your nuc on its rail
          </a>
        </p>
      )}
    </>
  );
}
