/** Every introduction as a row: what was begun, how, and what came of it. */
import { framesAtSplit } from '../../introduction/acts/frames-of-bees.ts';
import type { FactKind } from '../../introduction/log/facts.ts';
import { foldIntroduction, type IntroductionState } from '../../introduction/state.ts';
import { iso } from '../../farm/wire.ts';
import type { Introduction } from '../../store/field-log/introductions.ts';
import type { Store } from '../../store/store.ts';
import { setupOf } from '../../farm/setup-of.ts';
import type { OutcomeFacts } from './outcomes-view.ts';

/** After any of these a queen was in the nuc. */
const broughtIn: ReadonlySet<FactKind> = new Set(['cage-hung', 'candy-opened', 'looked-for-queen', 'balled']);

export const queenWasIn = ({ facts }: IntroductionState): boolean =>
  facts.some(({ fact }) => broughtIn.has(fact.kind));

export const outcomeFacts = (store: Store, nowMs: number): OutcomeFacts[] =>
  store.introductions.list().flatMap((introduction) => rowOf(store, introduction, nowMs) ?? []);

function rowOf(store: Store, introduction: Introduction, nowMs: number): OutcomeFacts | undefined {
  const nuc = store.places.hive(introduction.nucId);
  const site = nuc && store.places.site(nuc.siteId);
  if (!nuc || !site) return undefined;
  const state = foldIntroduction(
    setupOf(store, introduction, site.timeZone),
    store.introductions.log(introduction.id),
    nowMs,
  );
  const queenId = state.queen.queenId ?? introduction.queenId;
  const queen = queenId === undefined ? undefined : store.queens.queen(queenId);
  const arrival =
    introduction.arrivalId === undefined ? undefined : store.queens.arrival(introduction.arrivalId);
  return {
    nuc: nuc.name,
    site: site.name,
    batch: nuc.batch ?? '',
    introductionId: introduction.id,
    startingPoint: introduction.startingPoint,
    method: introduction.method,
    queen: queen?.line ?? queenId ?? '',
    source: queen?.source ?? arrival?.source ?? '',
    splitAt: state.split ? iso(state.split.atMs) : '',
    releasedAt: state.queen.releasedAtMs === null ? '' : iso(state.queen.releasedAtMs),
    outcome: state.outcome?.outcome ?? '',
    outcomeAt: state.outcome ? iso(state.outcome.atMs) : '',
    framesOfBees: framesAtSplit(state) ?? null,
    timeZone: site.timeZone,
    queenWasInIt: queenWasIn(state),
  };
}
