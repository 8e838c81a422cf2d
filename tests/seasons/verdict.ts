/** What came of a history, by the truth; and what its log could have shown, read by rules of the trade alone. */
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import type { ByCalendar } from './by-calendar.ts';
import type { LostTo } from './hive.ts';
import type { Hands } from './hands.ts';
import type { Played } from './obedient.ts';

export interface Verdict {
  readonly deadEnd: boolean;
  readonly against: number;
  readonly opened: boolean;
  readonly rivalMet: boolean;
  /**
   * Stated when the first queen was let out, and whether a virgin of a cell, what became of her, or laying workers met
   * her; null where none was stated.
   */
  readonly chance: { readonly stated: number; readonly came: boolean } | null;
  /** Plain, no cell passed over, she was there in time; null for any other. Under the mesh she has four days at least. */
  readonly cleanByDay10: boolean | null;
  readonly visits: number;
  readonly lost: LostTo | null;
  readonly couldBeKnown: string | null;
  readonly eggsOnDay: number | null;
}

const queensOf = ({ scene }: Hands) => scene.hive.queens;

function cleanByDay10({ scene, hands }: Played): boolean | null {
  const { hive } = scene;
  const visits = [0, 7, 10, 11].some((day) => scene.cannotGo(day));
  const odd = hands.passedOver || !scene.plain || visits || hive.queens.length !== 1;
  const [queen] = hive.queens;
  if (
    odd ||
    !queen ||
    hands.diary.some(({ fact }) => isOdd(fact)) ||
    (queen.lostAt !== null && queen.openedAt === null)
  )
    return null;
  const fourDays =
    scene.method === 'push-in-cage' && queen.cagedAt !== null ? Math.floor(queen.cagedAt) + 4 : 0;
  return queen.openedAt !== null && Math.floor(queen.openedAt) <= Math.max(10, fourDays);
}

const isOdd = (fact: FactPayload): boolean =>
  (fact.kind === 'cage-checked' && fact.behaviour === 'biting') ||
  ((fact.kind === 'cells-cut' || fact.kind === 'inspection') &&
    (fact.virginSeen || fact.severalEggsACell || (fact.cells.emerged ?? 0) > 0)) ||
  (fact.kind === 'split-made' && fact.cellsAlreadyThere !== 'none') ||
  (fact.kind === 'queen-removed' && fact.cellsAlreadyThere !== 'none') ||
  fact.kind === 'balled';

/** Egg and larva: cut no earlier than day 7, as the trade says; half a day for the hour of the visit. */
const rearableDays = 6.5;

const oneVisit = 0.25;

/** Signs that were written before she was let out and that nothing in the log took back. */
function signsBefore(hands: Hands, openedAt: number): readonly string[] {
  const signs = new Map<string, boolean>();
  let virgins = 0;
  let youngestEgg = -Infinity;
  let virginSeenAt = -Infinity;
  for (const { t, fact } of hands.diary) {
    if (t >= openedAt) break;
    if (fact.kind === 'cells-cut' || fact.kind === 'inspection') {
      if (fact.virginSeen) [virgins, virginSeenAt] = [Math.max(1, virgins), t];
      virgins = Math.max(virgins, fact.cells.emerged ?? 0);
      signs.set(
        'cells were left',
        fact.kind === 'inspection' && (fact.cells.open ?? 0) + (fact.cells.sealed ?? 0) > 0,
      );
      const workers = fact.severalEggsACell === true || fact.droneBroodInWorkerCells === true;
      if (workers || fact.youngestBrood !== 'not-looked') signs.set('laying workers', workers);
    }
    // One that was seen and one that was caught in the same visit are one, whatever she was called; and a virgin grows into a young queen.
    if (fact.kind === 'queen-removed' && (fact.which !== 'old-queen' || t - virginSeenAt < oneVisit))
      virgins--;
    // She held the bees back.
    if (fact.kind === 'queen-removed') signs.delete('no cell on the test frame');
    if (fact.kind === 'brood-frame-taken' && fact.asTestFrame) {
      if ((fact.cellsOnIt ?? 0) > 0) virgins = 0;
      signs.set('no cell on the test frame', fact.cellsOnIt === 0);
    }
    const old = fact.kind === 'queen-removed' && fact.which !== 'virgin';
    const given =
      fact.kind === 'brood-frame-added' && !fact.asTestFrame && fact.brood === 'eggs-or-young-larvae';
    if (fact.kind === 'split-made' || old || given) youngestEgg = t;
    if (fact.kind === 'cage-checked') signs.set('biting', fact.behaviour === 'biting');
    if (fact.kind === 'balled') signs.set('balled', true);
    if (fact.kind === 'cage-checked' && fact.behaviour !== 'biting') signs.set('balled', false);
  }
  if (youngestEgg + rearableDays > openedAt) signs.set('larvae were young enough', true);
  if (virgins > 0) signs.set('a virgin or her shell', true);
  return [...signs].filter(([, stands]) => stands).map(([sign]) => sign);
}

/** The sign that names the cause, or what was ordered that caused it. */
function couldBeKnown(
  hands: Hands,
  lost: LostTo,
  openedAt: number | null,
  inHandFrom: number,
  lostAt: number,
): string | null {
  if (lost === 'in-hand')
    return lostAt - inHandFrom > 6 && !hands.scene.hive.rivalAt(lostAt) ? 'left in hand for days' : null;
  if (lost === 'early-look') return 'looked for within three days';
  // Nobody let out one that escaped.
  const escaped = hands.diary.some(({ t, fact }) => fact.kind === 'queen-escaped' && t >= (openedAt ?? t));
  if (openedAt === null || escaped) return null;
  // A laying queen of one's own is let out while larvae are left.
  const own = hands.scene.startingPoint === 'own-laying-queen';
  const signs = signsBefore(hands, openedAt).filter((sign) => !own || sign !== 'larvae were young enough');
  const names: Readonly<Partial<Record<LostTo, readonly string[]>>> = {
    virgin: [
      'a virgin or her shell',
      'cells were left',
      'no cell on the test frame',
      'larvae were young enough',
    ],
    'young-queen': ['a virgin or her shell', 'no cell on the test frame'],
    'old-queen': ['no cell on the test frame'],
    'laying-workers': ['laying workers'],
    biting: ['biting', 'balled'],
  };
  const wanted = names[lost] ?? [];
  return signs.find((sign) => wanted.includes(sign)) ?? null;
}

const eggsOf = (hands: Hands): number | null => {
  const queen = queensOf(hands).find((q) => q.layer && (q.lostAt === null || q.lostAt > q.layer.from + 1));
  return queen?.layer?.from ?? null;
};

function share(
  hands: Hands,
): Pick<Verdict, 'opened' | 'rivalMet' | 'visits' | 'lost' | 'couldBeKnown' | 'eggsOnDay'> {
  const queens = queensOf(hands);
  const lost = queens.find((queen) => queen.lostTo !== null && queen.lostTo !== 'no-cause') ?? null;
  return {
    opened: queens.some((queen) => queen.openedAt !== null),
    rivalMet: queens.some((queen) => queen.rival !== null),
    visits: hands.days.size,
    lost: lost?.lostTo ?? null,
    couldBeKnown:
      lost?.lostTo == null
        ? null
        : couldBeKnown(hands, lost.lostTo, lost.openedAt, lost.inHandFrom, lost.lostAt ?? 0),
    eggsOnDay: eggsOf(hands),
  };
}

function chanceOf({ stated, hands }: Played): Verdict['chance'] {
  const [queen, ...more] = queensOf(hands);
  if (stated === null || queen?.openedAt == null || more.length > 0) return null;
  return { stated, came: queen.rival !== null && queen.rival.who !== 'old-queen' };
}

export const verdictOn = (played: Played): Verdict => ({
  deadEnd: played.ended === 'dead-end',
  against: played.against.length,
  cleanByDay10: cleanByDay10(played),
  chance: chanceOf(played),
  ...share(played.hands),
});

export const verdictOnCalendar = ({ hands }: ByCalendar): Verdict => ({
  deadEnd: false,
  against: 0,
  cleanByDay10: null,
  chance: null,
  ...share(hands),
});
