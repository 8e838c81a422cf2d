/** Write down a visit, with gloves on and without signal. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { FactKind } from '../api/facts.ts';
import { byName } from '../format/names.ts';
import { EmptyState, Loading } from '../parts/resource-view.tsx';
import { hashFor, route } from '../route.ts';
import { hives, nearPlan, nuc, nucs } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { ChooseNucs } from '../visit/choose-nucs.tsx';
import { HiveVisit } from '../visit/hive-visit.tsx';
import { dueActs } from '../visit/expected.ts';
import { forms } from '../visit/forms/index.ts';
import { OfflineWords } from '../visit/offline-words.tsx';
import { refreshUnsent } from '../visit/outbox.ts';
import type { RememberedNuc } from '../visit/remembered-nucs.ts';
import { rememberedNucs } from '../visit/remembered-nucs.ts';
import { UnsentList } from '../visit/unsent-list.tsx';
import { asItStands } from '../visit/as-it-stands.ts';
import { VisitForm } from '../visit/visit-form.tsx';

const listed = (text: string | null): readonly string[] => text?.split(',').filter((one) => one !== '') ?? [];
const isKind = (kind: string): kind is FactKind => kind in forms;

/**
 * In weak signal the server is not waited for longer than this where something is remembered of the nucs: that will do.
 * A device that remembers nothing has nothing to show before the answers.
 */
const patienceMs = 1_500;

/** Whether what is due is known as well as it will be. */
function useReady(): boolean {
  const [late, setLate] = useState(false);
  const [remembered] = useState(() => rememberedNucs().length > 0);
  useEffect(() => {
    const timer = setTimeout(() => {
      setLate(true);
    }, patienceMs);
    return () => {
      clearTimeout(timer);
    };
  }, []);
  const answers = [useResource(nucs), useResource(nearPlan)];
  return (
    (late && remembered) || answers.every(({ data, trouble }) => data !== undefined || trouble !== undefined)
  );
}

/** Another nuc or another entry is another page, which begins at its top. */
function useStartAt(query: string): void {
  const before = useRef(query);
  useEffect(() => {
    if (before.current === query) return;
    before.current = query;
    document.getElementById('main')?.focus({ preventScroll: true });
    scrollTo(0, 0);
  }, [query]);
}

export default function Log() {
  const ready = useReady();
  useEffect(() => void refreshUnsent(), []);
  const { query } = route.value;
  useStartAt(query.toString());
  const all = rememberedNucs();
  const asked = new Set([...listed(query.get('nuc')), ...listed(query.get('nucs'))]);
  const chosen = all.filter(({ id }) => asked.has(id));
  const [one, ...others] = chosen;
  const hive = useResource(hives).data?.items.find(({ id }) => id === query.get('hive'));
  return (
    <div class="log-page">
      <header class="page-head">
        <h1>Log a visit</h1>
        {one && (
          <p class="row">
            <span>
              {others.length === 0 && (
                <>
                  <bdi>{one.name}</bdi>
                  {one.day !== null && `, day ${String(Math.floor(one.day))}`} ·{' '}
                </>
              )}
              <bdi>{one.siteName}</bdi>
            </span>
            <a class="button small" href={hashFor('log')}>
              Another nuc
            </a>
          </p>
        )}
      </header>
      {all.length === 0 && nucs.snapshot.value.data !== undefined && (
        <EmptyState title="There is no nuc to log for yet." />
      )}
      {!ready && <Loading what="the nucs" />}
      {hive && (
        <>
          <p class="row">
            <b>
              <bdi>{hive.name}</bdi>
            </b>
            <a class="button small" href={hashFor('log')}>
              Another nuc
            </a>
          </p>
          <HiveVisit key={hive.id} hive={hive} />
        </>
      )}
      {/* Another address is another form. */}
      {ready && asked.size > 0 && <ForNucs key={query.toString()} all={all} chosen={chosen} />}
      {ready && asked.size === 0 && !hive && <ChooseHive all={all} />}
      <UnsentList />
      <OfflineWords />
    </div>
  );
}

const ChooseHive = ({ all }: { all: readonly RememberedNuc[] }) => (
  <>
    {all.length > 0 && <ChooseNucs all={all} />}
    <OtherHives all={all} />
  </>
);

/** Hives without an introduction: a visit to them is logged as well. */
function OtherHives({ all }: { all: readonly RememberedNuc[] }) {
  const under = new Set(all.filter(({ introductionId }) => introductionId !== null).map(({ id }) => id));
  const others = (useResource(hives).data?.items ?? [])
    .filter(({ id, retiredAt }) => retiredAt === undefined && !under.has(id))
    .sort((a, b) => byName(a.name, b.name));
  if (others.length === 0) return null;
  return (
    <details>
      <summary>Other hives</summary>
      <ul class="nuc-names">
        {others.map(({ id, name }) => (
          <li key={id}>
            <a class="button" href={hashFor('log', undefined, { hive: id })}>
              <bdi>{name}</bdi>
            </a>
          </li>
        ))}
      </ul>
    </details>
  );
}

interface ForNucsProps {
  readonly all: readonly RememberedNuc[];
  readonly chosen: readonly RememberedNuc[];
}

function ForNucs({ all, chosen }: ForNucsProps) {
  const { query } = route.value;
  const open = chosen.filter(({ introductionId }) => introductionId !== null);
  // What is being written stays, also where the nuc is closed or put away elsewhere meanwhile.
  const [begun, setBegun] = useState(open);
  if (begun.length === 0 && open.length > 0) setBegun(open);
  const start = open.length > 0 ? open : begun;
  const [one] = start;
  if (!one && chosen.length === 0) return <ChooseHive all={all} />;
  if (!one) {
    return (
      <EmptyState title="No introduction is open in this nuc.">
        <p>
          <a href={hashFor('nucs', chosen[0]?.id)}>Open one on its page first</a>, or{' '}
          <a href={hashFor('log', undefined, { hive: chosen[0]?.id })}>log a visit without one</a>.
        </p>
      </EmptyState>
    );
  }
  const corrects = query.get('corrects');
  if (corrects !== null) return <Correction all={all} one={one} id={corrects} />;
  const named = [...listed(query.get('kind')), ...listed(query.get('kinds'))].filter(isKind);
  const acts = named.length > 0 ? named : query.has('then') ? [] : dueActs(one);
  const gone = begun.filter(({ id }) => !all.some((other) => other.id === id));
  const known = [...all, ...gone.map((other) => ({ ...other, introductionId: null }))];
  return <VisitForm all={known} start={start} acts={acts} />;
}

function Correction({ all, one, id }: { all: readonly RememberedNuc[]; one: RememberedNuc; id: string }) {
  const detail = useResource(nuc(one.id)).data;
  const old = detail && asItStands(detail.log, id);
  if (!old) return <p role="status">Fetching the entry that is corrected …</p>;
  const { fact, happenedAtMs } = old;
  return <VisitForm all={all} start={[one]} acts={[]} corrects={{ id, fact, happenedAtMs }} />;
}
