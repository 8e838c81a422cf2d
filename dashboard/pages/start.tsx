/** From an empty server to the first nuc on a rail, one step after the other. */
import type { ComponentChildren } from 'preact';
import { useEffect } from 'preact/hooks';
import type { Channel } from '../../server/contract/sensors.ts';
import { FirstNuc } from '../start/first-nuc.tsx';
import { FirstPassword } from '../start/first-password.tsx';
import { FirstPlace } from '../start/first-place.tsx';
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
  readonly key: 'password' | 'site' | 'sensor' | 'nuc' | 'place' | 'split';
  readonly title: string;
  readonly body: ComponentChildren;
}

const steps: readonly Step[] = [
  { key: 'password', title: 'A password', body: <FirstPassword /> },
  { key: 'site', title: 'Your first site', body: <FirstSite /> },
  { key: 'sensor', title: 'The first sensor', body: <FirstSensor /> },
  { key: 'nuc', title: 'The first nuc', body: <FirstNuc /> },
  { key: 'place', title: 'Where the sensor stands', body: <FirstPlace /> },
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

/** At least one stands somewhere, and nothing that measures bees waits still. */
function isPlaced(all: readonly Channel[]): boolean {
  const waits = all.some((one) => one.assignment === null && one.quantity !== 'battery');
  return !waits && all.some((one) => one.assignment !== null);
}

export default function Start() {
  // A sensor that speaks, or a nuc that was made, ticks its step off by itself.
  const all = useResource(channels).data?.items;
  const snapshot = all?.length;
  const nucCount = useResource(nucs).data?.items.length;
  useEffect(() => void loadMe(), [snapshot, nucCount]);
  const setUp = me.value?.setUp;
  if (!setUp) return null;
  const done = { ...setUp, place: isPlaced(all ?? []) };
  const isSkipped = (key: Step['key']): boolean =>
    (key === 'sensor' && skipped.value.has(key)) ||
    (key === 'place' && (skipped.value.has(key) || (!setUp.sensor && skipped.value.has('sensor'))));
  const open = steps.find(({ key }) => !done[key] && !isSkipped(key));
  return (
    <>
      <header class="page-head">
        <h1>First steps</h1>
        <p>
          Six steps to your own readings on a rail. To look around first, start <code>welcomb demo</code>: an
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
              {i + 1}. {step.title}{' '}
              {done[step.key] ? (
                <span class="soft">done</span>
              ) : (
                isSkipped(step.key) && <span class="soft">later</span>
              )}
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
