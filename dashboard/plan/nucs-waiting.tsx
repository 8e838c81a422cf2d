/** The nucs before their release, each with its next step: what the queens are for. */
import type { NucSummary } from '../../server/contract/nucs.ts';
import { localDate } from '../format/calendar.ts';
import { byName } from '../format/names.ts';
import { count } from '../format/units.ts';
import { relativeDate } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { EmptyState } from '../parts/resource-view.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { hashFor } from '../route.ts';
import { serverMinute } from '../state/live.ts';
import { mayKeep } from '../state/session.ts';
import { undoBatch } from './undo-batch.ts';

const atOnce = 12;

export function NucsWaiting({ nucs }: { nucs: readonly NucSummary[] }) {
  const groups = new Map<string, NucSummary[]>();
  for (const one of [...nucs].sort((a, b) => byName(a.hive.name, b.hive.name))) {
    const batch = one.hive.batch ?? 'in no batch';
    groups.set(batch, [...(groups.get(batch) ?? []), one]);
  }
  return (
    <>
      {nucs.length === 0 && <EmptyState title="No nuc yet." />}
      {[...groups].map(([batch, those]) => (
        <Batch key={batch} batch={batch} those={those} />
      ))}
    </>
  );
}

function Batch({ batch, those }: { batch: string; those: readonly NucSummary[] }) {
  return (
    <div>
      <h3>
        <bdi>{batch}</bdi>
      </h3>
      <ul class="nuc-steps">
        {those.slice(0, atOnce).map((one) => (
          <li key={one.hive.id}>
            <a href={hashFor('nucs', one.hive.id)}>
              <bdi>{one.hive.name}</bdi>
            </a>{' '}
            <span class="soft">{next(one)}</span>
          </li>
        ))}
      </ul>
      {those.length > atOnce && (
        <p>
          <a href={hashFor('nucs')}>and {those.length - atOnce} more</a>
        </p>
      )}
      {mayKeep.value && those.every(({ stage }) => stage === 'planned') && (
        <ActionButton run={() => undoBatch(those.map(({ hive }) => hive.id))}>
          Undo these {count(those.length, 'nuc')}
          <span class="hidden-words">: {batch}</span>
        </ActionButton>
      )}
    </div>
  );
}

function next(one: NucSummary): string {
  const step = one.nextStep;
  if (!step) return one.stageText;
  const zone = zoneOfSite(step.siteId);
  const when = relativeDate(localDate(Date.parse(step.target), zone), localDate(serverMinute.value, zone));
  return `${step.label ?? step.whatToDo}, ${when}`;
}
