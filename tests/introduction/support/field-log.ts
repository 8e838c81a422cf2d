/** Writes a field log in days and hours after a split, for tests. */
import type { CellCounts, FactPayload, LogEntry } from '../../../server/introduction/log/facts.ts';
import type { IntroductionSetup } from '../../../server/introduction/state.ts';
import { foldIntroduction } from '../../../server/introduction/state.ts';
import { Temporal } from 'temporal-polyfill';

export const zone = 'Europe/Berlin';

/** Wall-clock time of a made-up season at the site: `at(7, 9.5)` is half past nine on day 7 after 1 May. */
export const at = (day: number, hour = 10, timeZone = zone, day0 = '2027-05-01'): number =>
  Temporal.PlainDate.from(day0)
    .add({ days: day })
    .toZonedDateTime({
      timeZone,
      plainTime: { hour: Math.floor(hour), minute: Math.round((hour % 1) * 60) },
    }).epochMilliseconds;

export const setupOf = (over: Partial<IntroductionSetup> = {}): IntroductionSetup => ({
  id: 'intro-one',
  nucId: 'nuc-one',
  startingPoint: 'planned-split',
  method: 'candy-cage',
  timeZone: zone,
  openedAtMs: at(-10),
  ...over,
});

export const cells = (over: Partial<CellCounts> = {}): CellCounts => ({
  open: 0,
  sealed: 0,
  emerged: 0,
  tornDown: 0,
  ...over,
});

type Of<K extends FactPayload['kind']> = Omit<Extract<FactPayload, { kind: K }>, 'kind'>;

export const facts = {
  split: (over: Partial<Of<'split-made'>> = {}): FactPayload => ({
    kind: 'split-made',
    framesOfBees: 3,
    framesOfSealedBrood: 2,
    framesOfOpenBrood: 1,
    framesOfStores: 1,
    oldQueen: 'seen-in-parent',
    cellsAlreadyThere: 'none',
    ...over,
  }),
  cut: (found: Partial<CellCounts> = {}, over: Partial<Of<'cells-cut'>> = {}): FactPayload => ({
    kind: 'cells-cut',
    cells: cells(found),
    everyFrameChecked: true,
    beesShakenOff: true,
    youngestBrood: 'not-looked',
    youngLarvaInOpenCell: false,
    virginSeen: false,
    severalEggsACell: false,
    droneBroodInWorkerCells: false,
    ...over,
  }),
  inspection: (over: Partial<Of<'inspection'>> = {}): FactPayload => ({
    kind: 'inspection',
    youngestBrood: 'not-looked',
    cells: cells(),
    everyFrameChecked: true,
    beesShakenOff: true,
    severalEggsACell: false,
    droneBroodInWorkerCells: false,
    virginSeen: false,
    layingQueenSeen: false,
    ...over,
  }),
  arrived: (over: Partial<Of<'queen-arrived'>> = {}): FactPayload => ({
    kind: 'queen-arrived',
    queenId: 'queen-one',
    condition: 'alive',
    ...over,
  }),
  hung: (over: Partial<Of<'cage-hung'>> = {}): FactPayload => ({
    kind: 'cage-hung',
    queenId: 'queen-one',
    candyEnd: 'closed',
    ...over,
  }),
  atCage: (over: Partial<Of<'cage-checked'>> = {}): FactPayload => ({
    kind: 'cage-checked',
    behaviour: 'feeding',
    queenAlive: true,
    ...over,
  }),
  opened: (over: Partial<Of<'candy-opened'>> = {}): FactPayload => ({
    kind: 'candy-opened',
    plug: 'whole',
    ...over,
  }),
  looked: (over: Partial<Of<'looked-for-queen'>> = {}): FactPayload => ({
    kind: 'looked-for-queen',
    cageEmpty: true,
    queenSeen: true,
    eggsSeen: true,
    sealedWorkerBroodSeen: false,
    cells: cells(),
    behaviour: 'calm',
    severalEggsACell: false,
    droneBroodInWorkerCells: false,
    ...over,
  }),
  broodAdded: (over: Partial<Of<'brood-frame-added'>> = {}): FactPayload => ({
    kind: 'brood-frame-added',
    brood: 'eggs-or-young-larvae',
    asTestFrame: false,
    ...over,
  }),
  broodTaken: (over: Partial<Of<'brood-frame-taken'>> = {}): FactPayload => ({
    kind: 'brood-frame-taken',
    asTestFrame: true,
    ...over,
  }),
};

/** Entries with ids in the order given; written an hour after they happened. */
export const logOf = (
  entries: readonly (readonly [happenedAtMs: number, fact: FactPayload])[],
  introductionId = 'intro-one',
): LogEntry[] =>
  entries.map(([happenedAtMs, fact], i) => ({
    id: `${introductionId}-f${String(i).padStart(3, '0')}`,
    introductionId,
    type: 'fact',
    happenedAtMs,
    writtenAtMs: happenedAtMs + 3_600_000,
    fact,
  }));

/** A split on day 0, cut on day 7 with the cage hung, looked through on day 10. */
export const cleanEntries: readonly (readonly [number, FactPayload])[] = [
  [at(0), facts.split()],
  [at(7), facts.cut({ open: 1, sealed: 8 })],
  [at(7, 10.5), facts.hung()],
  [at(10), facts.cut()],
];

export const stateAt = (
  entries: readonly (readonly [number, FactPayload])[],
  nowMs: number,
  over: Partial<IntroductionSetup> = {},
) => foldIntroduction(setupOf(over), logOf(entries), nowMs);
