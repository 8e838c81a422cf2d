/** One nuc: what it is, what comes next, its rail beside the answers; charts, plan and log folded. */
import type { NucDetail } from '../../server/contract/nucs.ts';
import { hashFor, route } from '../route.ts';
import { nuc, openAlerts } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { AlertCard } from '../alerts/alert-card.tsx';
import { Answers } from '../nuc/answers.tsx';
import { Fold } from '../parts/fold.tsx';
import { Latest } from '../nuc/latest.tsx';
import { NextAct } from '../nuc/next-act.tsx';
import { NucAlerts } from '../nuc/nuc-alerts.tsx';
import { NucLog } from '../nuc/nuc-log.tsx';
import { NucPlan } from '../nuc/nuc-plan.tsx';
import { NextIntroduction, OpenIntroduction } from '../nuc/open-introduction.tsx';
import { PutAway } from '../nuc/put-away.tsx';
import { EmptyState, ResourceView } from '../parts/resource-view.tsx';
import { SpareQueens } from '../nuc/spare-queens.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { isAboutTheLog, topLevelAlerts } from '../alerts/top-level-alerts.ts';
import { WhyAndWhyNot } from '../nuc/why-not.tsx';
import { count } from '../format/units.ts';
import { lazyPart } from '../lazy.tsx';
import { NucRail } from '../rail/nuc-rail.tsx';
import { rememberedNucs } from '../visit/remembered-nucs.ts';
import { methodWords, startingPointWords } from '../words/labels.ts';

/** A large library draws them: fetched when they are opened. */
const NucCharts = lazyPart(
  () => import('../chart/nuc-charts.tsx').then((module) => module.NucCharts),
  'the charts',
);

/** From this width on the charts are open: there is room for an evening's look. */
const chartsFromPx = 1100;

export default function Nuc() {
  const id = route.value.id ?? '';
  const { data, trouble } = useResource(nuc(id));
  if (trouble?.code === 'not-found') return <NoSuchNuc />;
  return (
    <>
      {!data && <Remembered id={id} isOut={trouble !== undefined} />}
      <ResourceView of={nuc(id)} what="this nuc">
        {(one) => <One one={one} />}
      </ResourceView>
    </>
  );
}

/** Which nuc it is, until the server answers; where it can't, a visit can be logged all the same. */
function Remembered({ id, isOut }: { id: string; isOut: boolean }) {
  const known = rememberedNucs().find((one) => one.id === id);
  return (
    <header class="page-head">
      <h1>
        <bdi>{known?.name ?? 'Nuc'}</bdi>
      </h1>
      {known && (
        <p class="row">
          <bdi>{known.siteName}</bdi>
          {isOut && (
            <a class="button" href={hashFor('log', undefined, { nuc: id })}>
              Log a visit
            </a>
          )}
        </p>
      )}
    </header>
  );
}

function NoSuchNuc() {
  return (
    <>
      <header class="page-head">
        <h1>No such nuc</h1>
      </header>
      <EmptyState title="There is no nuc at this address.">
        <p>It was taken back while it was only planned, or the address is mistyped.</p>
        <a class="button main" href={hashFor('nucs')}>
          See all nucs
        </a>
      </EmptyState>
    </>
  );
}

function One({ one }: { one: NucDetail }) {
  const zone = one.rail?.timeZone ?? zoneOfSite(one.hive.siteId);
  const raised = useResource(openAlerts).data?.items.filter(
    (alert) =>
      alert.subject.nucIds.includes(one.hive.id) && alert.phase === 'raised' && !isAboutTheLog(alert),
  );
  const alerts = raised && topLevelAlerts(raised);
  return (
    <>
      <header class="page-head">
        <h1>
          <bdi>{one.hive.name}</bdi>
        </h1>
        <p class="soft">
          <bdi>{one.siteName}</bdi>
          {one.day !== null && ` · day ${String(Math.floor(one.day))}`} · {one.stageName}
          {one.hive.retiredAt !== undefined && ' · off the lists'}
        </p>
      </header>
      {one.introductionId === null ? <OpenIntroduction one={one} /> : <NextAct one={one} zone={zone} />}
      {!one.diseaseSigns &&
        (one.waiting || one.plan.some(({ kind, state }) => kind === 'hang-cage' && state !== 'done')) && (
          <SpareQueens nucId={one.hive.id} />
        )}
      {one.setup?.ended && <NextIntroduction one={one} />}
      {alerts?.map((alert) => (
        <AlertCard key={alert.id} alert={alert} level={2} own />
      ))}
      <div class="nuc-columns">
        {one.rail && (
          <section class="card" aria-label="Rail">
            <h2>Day by day</h2>
            <NucRail rail={one.rail} />
          </section>
        )}
        {(one.gates.length > 0 || one.drift || one.signals.length > 0) && <Answers one={one} zone={zone} />}
      </div>
      <Latest one={one} zone={zone} />
      <Folds one={one} zone={zone} />
    </>
  );
}

function Folds({ one, zone }: { one: NucDetail; zone: string }) {
  return (
    <div>
      {one.introductionId !== null && (
        <Fold title="Charts" open={innerWidth >= chartsFromPx}>
          <NucCharts one={one} zone={zone} />
        </Fold>
      )}
      {(one.plan.length > 0 || one.waiting?.late) && (
        <Fold title="Plan and dates">
          <NucPlan one={one} zone={zone} />
        </Fold>
      )}
      <Fold title="Log" note={count(one.log.length, 'entry', 'entries')}>
        <NucLog one={one} zone={zone} />
      </Fold>
      <Fold title="Earlier alerts">
        <NucAlerts id={one.hive.id} />
      </Fold>
      <Fold title="Why, and why not">
        <WhyAndWhyNot id={one.hive.id} zone={zone} />
      </Fold>
      {one.setup && (
        <Fold title="About this introduction">
          <p>{one.stageText}</p>
          <p>
            {startingPointWords[one.setup.startingPoint]}, {methodWords[one.setup.method]}
            {one.setup.queen !== undefined && (
              <>
                , queen <bdi>{one.setup.queen}</bdi>
              </>
            )}
          </p>
          {one.setup.ended && <PutAway one={one} />}
        </Fold>
      )}
    </div>
  );
}
