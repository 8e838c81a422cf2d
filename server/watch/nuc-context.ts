/** What the store knows about a nuc before anything is worked out: where it stands, its introduction and its log. */
import type { LogEntry } from '../introduction/log/facts.ts';
import { carryOver } from '../introduction/carry-over.ts';
import { foldIntroduction, type IntroductionSetup } from '../introduction/state.ts';
import type { MissRate } from '../introduction/log/setup.ts';
import type { HiveVisit } from '../store/field-log/hive-visits.ts';
import type { Introduction } from '../store/field-log/introductions.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Site } from '../store/places/sites.ts';
import type { Store } from '../store/store.ts';
import { missRateBefore } from '../farm/inspection-miss-rate.ts';
import { setupOf } from '../farm/setup-of.ts';

export interface NucContext {
  readonly nuc: Hive;
  readonly site: Site;
  /** The newest introduction of this nuc. */
  readonly introduction: Introduction | null;
  readonly setup: IntroductionSetup | null;
  readonly log: readonly LogEntry[];
  /** Visits outside any introduction. */
  readonly visits: readonly HiveVisit[];
}

export function nucContext(store: Store, nuc: Hive): NucContext {
  const site = store.places.site(nuc.siteId);
  // Foreign keys hold it in place; a missing site would be a damaged database.
  if (!site) throw new Error(`the site ${nuc.siteId} of ${nuc.name} is missing`);
  const [introduction = null, ...earlier] = store.introductions.ofNuc(nuc.id);
  return {
    nuc,
    site,
    introduction,
    setup: introduction && {
      ...withCarried(store, setupOf(store, introduction, site.timeZone), earlier),
      ...learnt(missRateBefore(store, introduction)),
    },
    log: introduction ? store.introductions.log(introduction.id) : [],
    visits: store.hiveVisits.ofHive(nuc.id),
  };
}

const learnt = (missRate: MissRate | undefined): Pick<IntroductionSetup, 'missRate'> =>
  missRate ? { missRate } : {};

/** A failed introduction leads into the next one with what its log, and those before it, already know. */
function withCarried(
  store: Store,
  setup: IntroductionSetup,
  [last, ...before]: readonly Introduction[],
): IntroductionSetup {
  if (!last) return setup;
  const lastSetup = withCarried(store, setupOf(store, last, setup.timeZone), before);
  const ended = foldIntroduction(lastSetup, store.introductions.log(last.id), setup.openedAtMs);
  return { ...setup, carried: carryOver(ended) };
}
