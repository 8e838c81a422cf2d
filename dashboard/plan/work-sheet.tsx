/** Work by day and site, as it is also printed. */
import { useState } from 'preact/hooks';
import type { PlanStepDto } from '../../server/contract/nucs.ts';
import type { PlanDto } from '../../server/contract/plan.ts';
import { localDate } from '../format/calendar.ts';
import { notYet } from '../format/sentences.ts';
import { count } from '../format/units.ts';
import { dateInWords, relativeDate } from '../format/when.ts';
import { hashFor } from '../route.ts';
import { serverMinute } from '../state/live.ts';
import { EmptyState, capital } from '../parts/resource-view.tsx';
import { groupByTask, siteVisitsOf } from '../parts/site-visits.ts';
import type { SiteVisit } from '../parts/site-visits.ts';
import { urgentHelp, type UrgentHelp } from '../alerts/urgent-help.ts';
import { openAlerts } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { zoneOfSite } from '../parts/site-zone.ts';

/** As many visits as a keeper thinks of at once. */
const firstVisits = 6;

export function WorkSheet({ plan }: { plan: PlanDto }) {
  const today = localDate(serverMinute.value, zoneOfSite(undefined));
  const siteVisits = siteVisitsOf(plan, today);
  const help = urgentHelp(useResource(openAlerts).data?.items ?? []);
  /** With the first visit to the site. */
  const helpAt = ({ day }: SiteVisit, i: number): UrgentHelp | undefined =>
    siteVisits.findIndex((one) => one.day.siteId === day.siteId) === i
      ? help.find(({ siteId }) => siteId === day.siteId)
      : undefined;
  const alone = help.filter(({ siteId }) => siteVisits.every(({ day }) => day.siteId !== siteId));
  const [all, setAll] = useState(false);
  const hidden = all ? 0 : Math.max(0, siteVisits.length - firstVisits);
  return (
    <section class="card work-sheet" aria-label="Work by day and site">
      <h2>Work by day and site</h2>
      {siteVisits.length === 0 && <EmptyState title="Nothing is planned in the next weeks." />}
      <ol class="sheet-days">
        {siteVisits.map((siteVisit, i) => (
          <Day
            key={`${siteVisit.day.date} ${siteVisit.day.siteId}`}
            siteVisit={siteVisit}
            today={today}
            onlyOnPaper={!all && i >= firstVisits}
            help={helpAt(siteVisit, i)}
          />
        ))}
        {alone.map((one) => (
          <li key={one.siteId}>
            <h3>
              <bdi>{one.siteName}</bdi>
            </h3>
            <Help help={one} />
          </li>
        ))}
      </ol>
      <p class="row-acts">
        {hidden > 0 && (
          <button
            type="button"
            onClick={() => {
              setAll(true);
            }}
          >
            {count(hidden, 'later visit')}
          </button>
        )}
        <button
          type="button"
          onClick={() => {
            print();
          }}
        >
          Print the work sheet
        </button>
      </p>
    </section>
  );
}

/** On paper only: what to do in full, what practice adds, and a line to fill in for each nuc, to be logged in the evening. */
function ToFillIn({ group }: { group: readonly PlanStepDto[] }) {
  const [first] = group;
  if (!first) return null;
  return (
    <div class="print-only">
      <p>{first.whatToDo}</p>
      {(first.goodToKnow ?? []).length > 0 && (
        <ul class="sheet-practice">
          {first.goodToKnow?.map(({ text }) => (
            <li key={text}>{text}</li>
          ))}
        </ul>
      )}
      <ul>
        {group.map((step) => (
          <li key={step.id}>
            <b>
              <bdi>{step.nucName}</bdi>
            </b>{' '}
            {lineToFill(step)}
          </li>
        ))}
      </ul>
    </div>
  );
}

/** By the fact that logs the step: what the keeper would be asked for on the page. */
const linesToFill: Readonly<Record<string, string>> = {
  'cells-cut': 'open ____  sealed ____  emerged ____  torn down ____   every frame ☐  shaken ☐',
  'looked-for-queen': 'cage empty ☐  queen seen ☐  eggs ☐  sealed brood ☐  calm ☐',
  'split-made':
    'old queen seen in ____________  frames of bees ____  sealed ____  open ____  stores ____  cells there ☐',
  'cage-hung': 'queen ____________  bees feeding ☐  biting ☐',
  'candy-opened': 'plug left whole ☐  bees feeding ☐  biting ☐',
  'cage-taken-out': 'queen walks on the comb ☐  bees calm ☐',
  'brood-frame-taken': 'cells on it ____',
  'brood-frame-added': 'from ____________  eggs ☐  young larvae ☐  marked ☐',
  'queen-removed': 'old queen ☐  virgin ☐  another ____________  taken away ☐',
  'cage-checked': 'queen alive ☐  bees feeding ☐  biting ☐',
  'queen-arrived': 'queen ____________  alive ☐',
  inspection: 'frames of bees ____  sealed ____  open ____  stores ____',
  grafted: 'larvae ____  taken ____',
  outcome: 'how it ended ____________',
};

/** The queen by her name, where she has one. */
function lineToFill({ logAs = '', queen }: PlanStepDto): string {
  const line = linesToFill[logAs] ?? '________________________________';
  return queen === undefined ? line : line.replace('queen ____________', `queen ${queen} ☐`);
}

interface DayProps {
  readonly siteVisit: SiteVisit;
  readonly today: string;
  /** Hidden on a screen; the printed sheet has all. */
  readonly onlyOnPaper: boolean;
  readonly help: UrgentHelp | undefined;
}

const Help = ({ help: { bring, names } }: { help: UrgentHelp }) => (
  <p class="soft">
    Help for <bdi>{names.join(', ')}</bdi>: bring {bring.join(', ')}.
  </p>
);

function Day({ siteVisit, today, onlyOnPaper, help }: DayProps) {
  const { day, steps, when } = siteVisit;
  return (
    <li class={onlyOnPaper ? `${when} only-on-paper` : when}>
      <h3>
        <span class="trip-when">
          <span class="no-print">{capital(relativeDate(day.date, today))}</span>
          {/* A sheet of paper is read on other days, too. */}
          <span class="print-only">{dateInWords(day.date)}</span> <span class="soft">·</span>
        </span>{' '}
        <span class="trip-where">
          <bdi>{day.siteName}</bdi>
          {when === 'overdue' && <span class="fault"> overdue</span>}
        </span>
      </h3>
      <ul class="tick-boxes">
        {groupByTask(steps).map((group) => (
          <li key={group[0]?.id}>
            <b>{group[0]?.label ?? group[0]?.whatToDo}</b>:{' '}
            {group.map((step, i) => (
              <>
                {i > 0 && ', '}
                <a key={step.id} href={hashFor('nucs', step.nucId)}>
                  <bdi>{step.nucName}</bdi>
                </a>
                {step.blockedBy !== undefined && <span class="soft"> ({notYet(step.blockedBy)})</span>}
              </>
            ))}
            <ToFillIn group={group} />
          </li>
        ))}
      </ul>
      {day.bring.length > 0 && <p class="soft">Bring {day.bring.join(', ')}.</p>}
      {help && <Help help={help} />}
      {day.clashes.map((clash) => (
        <p key={clash} class="clash">
          <b>Clash.</b> {clash}
        </p>
      ))}
    </li>
  );
}
