/** One nuc: its rail, what may be done, what the sensors say, its charts, log and alerts. */
import type { NucDetail } from '../../server/contract/nucs.ts';
import { route, hashFor } from '../route.ts';
import { nuc } from '../state/farm.ts';
import { ResourceView } from '../parts/resource-view.tsx';
import { AlertCard } from '../parts/alert-card.tsx';
import { topLevelAlerts } from '../parts/top-level-alerts.ts';
import { GateCard } from '../parts/gate-card.tsx';
import { Latest } from '../parts/latest.tsx';
import { NucAlerts } from '../parts/nuc-alerts.tsx';
import { NucLog } from '../parts/nuc-log.tsx';
import { NucPlan } from '../parts/nuc-plan.tsx';
import { Signals } from '../parts/signals.tsx';
import { Caution } from '../parts/caution.tsx';
import { WhyAndWhyNot } from '../parts/why-not.tsx';
import { NucCharts } from '../chart/nuc-charts.tsx';
import { NucRail } from '../rail/nuc-rail.tsx';
import { zoneOfSite } from '../parts/site-zone.ts';
import { openAlerts } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { NextIntroduction, OpenIntroduction } from '../parts/open-introduction.tsx';
import { CandyAnswer } from '../parts/candy-answer.tsx';
import { JumpTo } from '../parts/jump-to.tsx';
import { methodWords, startingPointWords } from '../words/labels.ts';

export default function Nuc() {
  const id = route.value.id ?? '';
  return (
    <ResourceView of={nuc(id)} what="this nuc">
      {(data) => <One one={data} />}
    </ResourceView>
  );
}

const candyQuestion = ({ gates }: NucDetail): string =>
  gates.find(({ gate }) => gate === 'open-candy')?.question ?? 'May I open the candy end?';

function One({ one }: { one: NucDetail }) {
  const zone = one.rail?.timeZone ?? zoneOfSite(one.hive.siteId);
  const raised = useResource(openAlerts).data?.items.filter(
    (alert) => alert.subject.nucIds.includes(one.hive.id) && alert.phase === 'raised',
  );
  const alerts = raised && topLevelAlerts(raised);
  return (
    <>
      <header class="page-head">
        <h1>
          <bdi>{one.hive.name}</bdi>
        </h1>
        <p>
          <bdi>{one.siteName}</bdi>
          {one.day !== null && ` · day ${String(Math.floor(one.day))}`} · {one.stageText}
        </p>
        {one.setup && (
          <p class="soft">
            {startingPointWords[one.setup.startingPoint]}, {methodWords[one.setup.method]}
            {one.setup.queen !== undefined && (
              <>
                , queen <bdi>{one.setup.queen}</bdi>
              </>
            )}
          </p>
        )}
        {one.candyGate && <CandyAnswer gate={one.candyGate} question={candyQuestion(one)} zone={zone} />}
        <p class="page-acts">
          <a class="button main" href={hashFor('log', undefined, { nuc: one.hive.id })}>
            Log a visit
          </a>
        </p>
        <JumpTo parts={['Day by day', 'May I …?', 'Charts', 'Plan', 'Log']} />
      </header>
      {one.introductionId === null && <OpenIntroduction one={one} />}
      {one.setup?.ended && <NextIntroduction one={one} />}
      {alerts?.map((alert) => (
        <AlertCard key={alert.id} alert={alert} level={2} />
      ))}
      {one.rail && (
        <section class="card" aria-label="Rail">
          <h2>Day by day</h2>
          <NucRail rail={one.rail} />
        </section>
      )}
      {one.gates.length > 0 && (
        <section class="card" aria-label="May I?">
          <h2>May I …?</h2>
          {one.gates.map((gate) => (
            <GateCard key={gate.gate} gate={gate} zone={zone} open={gate.gate === 'open-candy'} />
          ))}
          <Caution about="alive" />
        </section>
      )}
      <Signals one={one} />
      <Latest one={one} zone={zone} />
      <NucCharts one={one} zone={zone} />
      <NucPlan one={one} zone={zone} />
      <NucLog one={one} zone={zone} />
      <NucAlerts id={one.hive.id} />
      <WhyAndWhyNot id={one.hive.id} zone={zone} />
    </>
  );
}
