/** From an empty server to the first nuc on a rail, one step after the other. */
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import { FirstNuc } from '../start/first-nuc.tsx';
import { FirstPassword } from '../start/first-password.tsx';
import { FirstSensor } from '../start/first-sensor.tsx';
import { FromBackup } from '../start/from-backup.tsx';
import { FirstSplit } from '../start/first-split.tsx';
import { SiteForm } from '../settings/sites.tsx';
import { skipped } from '../start/skipped.ts';
import { hashFor } from '../route.ts';
import { channels, nucs } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { loadMe, mayKeep, me } from '../state/session.ts';

interface Step {
  readonly key: 'password' | 'site' | 'sensor' | 'nuc' | 'split';
  readonly title: string;
  readonly body: ComponentChildren;
}

const steps: readonly Step[] = [
  { key: 'password', title: 'A password', body: <FirstPassword /> },
  { key: 'site', title: 'Your first site', body: <FirstSite /> },
  { key: 'sensor', title: 'The first sensor', body: <FirstSensor /> },
  { key: 'nuc', title: 'The first nuc', body: <FirstNuc /> },
  { key: 'split', title: 'The first split', body: <FirstSplit /> },
];

function FirstSite() {
  return (
    <>
      <p>Where do your nucs stand? Days, dusk and dawn are those of the site.</p>
      <SiteForm done={() => undefined} />
    </>
  );
}

export default function Start() {
  // A sensor that speaks, or a nuc that was made, ticks its step off by itself.
  const known = useResource(channels).data?.items.length;
  const nucCount = useResource(nucs).data?.items.length;
  useEffect(() => void loadMe(), [known, nucCount]);
  const setUp = me.value?.setUp;
  if (!setUp) return null;
  const open = steps.find((step) => !setUp[step.key] && !(step.key === 'sensor' && skipped.value));
  return (
    <>
      <header class="page-head">
        <h1>First steps</h1>
        <p>
          Five steps to your own readings on a rail. To look around first, stop the server and start it with{' '}
          <code>npm run demo</code>: an invented farm with nucs at different days.
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
              {i + 1}. {step.title} {setUp[step.key] && <span class="soft">done</span>}
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
