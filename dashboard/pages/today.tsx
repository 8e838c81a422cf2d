/** Does anything need me now; what do I do today, and what do I bring; who may chill tonight; what comes next. */
import type { ComponentChildren } from 'preact';
import { useEffect, useState } from 'preact/hooks';
import type { AlertDto } from '../../server/contract/alerts.ts';
import type { NucSummary } from '../../server/contract/nucs.ts';
import type { PlanDto } from '../../server/contract/plan.ts';
import { localDate } from '../format/calendar.ts';
import { count } from '../format/units.ts';
import { deviceZone, longDay, zoneNote } from '../format/when.ts';
import { AlertCard } from '../alerts/alert-card.tsx';
import { AlertFold } from '../alerts/alert-body.tsx';
import { AttentionRails } from '../today/attention-rails.tsx';
import { Caution } from '../parts/caution.tsx';
import { Changes } from '../today/changes.tsx';
import { NextDays } from '../today/next-days.tsx';
import { QueensLost } from '../today/queens-lost.tsx';
import { Loading, ResourceView } from '../parts/resource-view.tsx';
import { visitsOfToday } from '../today/visits-of-today.ts';
import { zoneOfSite } from '../parts/site-zone.ts';
import { Tonight } from '../today/tonight.tsx';
import { isAboutTheLog, topLevelAlerts } from '../alerts/top-level-alerts.ts';
import { VisitsToday } from '../today/visits-today.tsx';
import { nearPlan, nucs, openAlerts, sites } from '../state/farm.ts';
import { serverMinute } from '../state/live.ts';
import { useResource } from '../state/resource.ts';
import { whenIdle } from '../when-idle.ts';

export function Today() {
  useResource(sites);
  const zone = zoneOfSite(undefined);
  const today = localDate(serverMinute.value, zone);
  const { items: alerts = [], looking = false } = useResource(openAlerts).data ?? {};
  const { wrong, waits, putOff } = sorted(alerts);
  return (
    <>
      <Head zone={zone} today={today} wrong={wrong} looking={looking} />
      <div class="today-columns">
        <div>
          <ResourceView of={openAlerts} what="the alerts">
            {() => <Now wrong={wrong} putOff={putOff} looking={looking} />}
          </ResourceView>
          <ResourceView of={nearPlan} what="the visits">
            {(data) => <VisitsToday plan={data} urgent={wrong} today={today} />}
          </ResourceView>
          <ResourceView of={nucs} what="the nucs">
            {(data) => <QueensLost items={data.items} />}
          </ResourceView>
          {waits.length > 0 && <Fold words={`At the next visit (${String(waits.length)})`} alerts={waits} />}
        </div>
        <div>
          <ResourceView of={nucs} what="the night ahead">
            {(data) => <Tonight items={data.items} />}
          </ResourceView>
          <ResourceView of={nearPlan} what="the next days">
            {(data) => <NextDays plan={data} today={today} />}
          </ResourceView>
        </div>
      </div>
      <ResourceView of={nucs} what="the nucs">
        {(data) => (
          <Later>
            <Changes items={data.items} />
            <AttentionRails items={data.items} />
          </Later>
        )}
      </ResourceView>
      <Caution about="stings" />
    </>
  );
}

interface Found {
  readonly wrong: readonly AlertDto[];
  /** More may be found. */
  readonly looking: boolean;
}

function Head({ zone, today, ...found }: Found & { zone: string; today: string }) {
  const plan = useResource(nearPlan).data;
  const note = zoneNote(zone, deviceZone(), serverMinute.value);
  return (
    <header class="page-head">
      <h1>
        <span class="hidden-words">Today, </span>
        {longDay(serverMinute.value, zone)}
      </h1>
      <p class="soft">
        {plan && summary(plan, found, today)} {note !== '' && `(${note})`}
      </p>
    </header>
  );
}

/** `1 needs you now · 2 visits today`; what needs somebody today is counted where nothing does now. */
function summary(plan: PlanDto, { wrong, looking }: Found, today: string): string {
  const pressing = wrong.filter(({ urgency }) => urgency === 'now');
  const [when, those] = pressing.length > 0 ? ['now', pressing] : ['today', wrong];
  const unseen = those.filter(({ seenBy }) => !seenBy).length;
  const visits = visitsOfToday(plan, [], today).reduce(
    (sum, { nucs: visited }) => sum + visited.filter(({ steps }) => steps.length > 0).length,
    0,
  );
  // What was seen stands below all the same until it is over.
  const seen = pressing.length === 0 ? undefined : `${String(pressing.length)} seen, not over yet`;
  const none = seen ?? (looking ? 'Still looking' : 'Nothing needs you now');
  const needs = unseen === 0 ? none : `${String(unseen)} ${unseen === 1 ? 'needs' : 'need'} you ${when}`;
  return `${needs} · ${count(visits, 'visit')} today`;
}

/** What stands below is drawn when it can be seen. */
function Later({ children }: { children: ComponentChildren }) {
  const [drawn, setDrawn] = useState(false);
  useEffect(() => {
    whenIdle(() => {
      setDrawn(true);
    });
  }, []);
  return drawn ? children : <Loading what="the nucs" />;
}

/** More than this many at once are folded away: the first ones matter most. */
const atOnce = 6;
const rank = { now: 0, today: 1, 'next-visit': 2 } as const;

/** Those that hold but are not raised yet, and those that are over, are no news for Today. */
const isOpen = ({ phase }: AlertDto): boolean =>
  phase === 'raised' || phase === 'no-data' || phase === 'clearing';

/** A visit that is due stands under the visits, and nowhere else. */
function sorted(alerts: readonly AlertDto[]) {
  const shown = topLevelAlerts(alerts).filter((alert) => !isAboutTheLog(alert));
  const open = shown.filter(isOpen);
  const isSeen = (alert: AlertDto): number => (alert.seenBy ? 1 : 0);
  return {
    wrong: open
      .filter(({ urgency }) => urgency !== 'next-visit')
      .sort((a, b) => isSeen(a) - isSeen(b) || rank[a.urgency] - rank[b.urgency]),
    waits: open.filter(({ urgency }) => urgency === 'next-visit'),
    putOff: shown.filter(({ phase }) => phase === 'put-off'),
  };
}

/** Only what was looked at is called well. */
function calmWords(looking: boolean, items: readonly Pick<NucSummary, 'latest'>[]): string {
  if (looking) return 'Nothing found so far. Still looking through the readings.';
  return items.every(({ latest }) => Object.keys(latest).length === 0)
    ? 'No sensor reports from a nuc yet.'
    : 'Nothing is wrong as far as the sensors show.';
}

function Now({ wrong, putOff, looking }: Found & { putOff: readonly AlertDto[] }) {
  const [all, setAll] = useState(false);
  const items = useResource(nucs).data?.items ?? [];
  return (
    <section aria-label="Now">
      <h2>Now</h2>
      {wrong.length === 0 && <p class="soft">{calmWords(looking, items)}</p>}
      <div class="urgency-group">
        {(all ? wrong : wrong.slice(0, atOnce)).map((alert) => (
          <AlertCard key={alert.id} alert={alert} />
        ))}
      </div>
      {wrong.length > atOnce && (
        <button
          type="button"
          onClick={() => {
            setAll(!all);
          }}
        >
          {all ? 'Show fewer' : `Show all ${String(wrong.length)}`}
        </button>
      )}
      {putOff.length > 0 && <Fold words={`Put off (${String(putOff.length)})`} alerts={putOff} />}
    </section>
  );
}

function Fold({ words, alerts }: { words: string; alerts: readonly AlertDto[] }) {
  const [open, setOpen] = useState(false);
  return (
    <details
      class="fold-list"
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>{words}</summary>
      {open && alerts.map((alert) => <AlertFold key={alert.id} alert={alert} />)}
    </details>
  );
}
