/** What was done and seen until now, day by day; each for all of the nucs or for some. */
import type { FactKind } from '../api/facts.ts';
import { newId } from '../api/client.ts';
import { Text } from '../parts/fields.tsx';
import { ActSection } from '../visit/act-section.tsx';
import { ActList } from '../visit/choose-act.tsx';
import { NucChips } from '../visit/nuc-chips.tsx';
import type { RememberedNuc } from '../visit/remembered-nucs.ts';
import type { PastVisit } from './nucs-to-enter.ts';
import { pastVisit } from './nucs-to-enter.ts';

interface PastVisitsProps {
  readonly visits: readonly PastVisit[];
  readonly nucs: readonly RememberedNuc[];
  readonly today: string;
  readonly onVisits: (visits: readonly PastVisit[]) => void;
}

export function PastVisits({ visits, nucs, today, onVisits }: PastVisitsProps) {
  const method = nucs[0]?.setup?.method;
  const put = (changed: PastVisit): void => {
    onVisits(visits.map((one) => (one.key === changed.key ? changed : one)));
  };
  const add = (kind: FactKind): void => {
    onVisits([...visits, pastVisit(newId(), visits.at(-1)?.day ?? today, [kind])]);
  };
  return (
    <>
      {visits.map((visit) => (
        <OneVisit
          key={visit.key}
          {...{ visit, nucs, today }}
          onVisit={put}
          onRemove={() => {
            onVisits(visits.filter(({ key }) => key !== visit.key));
          }}
        />
      ))}
      <details class="more-acts" open={visits.length === 0}>
        <summary>Add what was done or seen</summary>
        <ActList method={method} without={[]} onChoose={add} />
      </details>
    </>
  );
}

interface OneVisitProps {
  readonly visit: PastVisit;
  readonly nucs: readonly RememberedNuc[];
  readonly today: string;
  readonly onVisit: (visit: PastVisit) => void;
  readonly onRemove: () => void;
}

function OneVisit({ visit, nucs, today, onVisit, onRemove }: OneVisitProps) {
  const chosen = nucs.filter(({ id }) => !visit.without.has(id));
  return (
    <div class="past-visit">
      <div class="inline-fields">
        <Text
          type="date"
          label="Day"
          value={visit.day}
          max={today}
          onValue={(day) => {
            onVisit({ ...visit, day });
          }}
        />
        <Text
          type="time"
          label="Time at the site"
          value={visit.time}
          onValue={(time) => {
            onVisit({ ...visit, time });
          }}
        />
      </div>
      <NucChips
        all={nucs}
        first={new Set(nucs.map(({ id }) => id))}
        chosen={new Set(chosen.map(({ id }) => id))}
        onChosen={(ids) => {
          onVisit({ ...visit, without: new Set(nucs.map(({ id }) => id).filter((id) => !ids.has(id))) });
        }}
      />
      {visit.draft.acts.map((kind) => (
        <ActSection
          key={kind}
          kind={kind}
          nucs={chosen}
          draft={visit.draft}
          onDraft={(draft) => {
            onVisit({ ...visit, draft });
          }}
          onRemove={onRemove}
        />
      ))}
    </div>
  );
}
