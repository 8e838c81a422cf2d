/**
 * From the log to what the chance of a missed cell rests on: where cells can have been started, what each look saw, which
 * virgins are ruled out. Expectations: what the log's words mean, with the figures of `biology` beside them.
 */
import { describe, expect, it } from 'vitest';
import {
  highEnd,
  lastCellsDays,
  lostAtSplitShare,
  queenEmergesDays,
  rearableLimitDays,
  startedAgainShare,
  swarmCellsUnlookedShare,
  unfinishedCutShare,
  unshakenLookShare,
  visitHours,
} from '../../server/biology/figures.ts';
import type { Evidence } from '../../server/introduction/brood/evidence.ts';
import { cellRecord, lastEggBefore } from '../../server/introduction/cells/cell-waves.ts';
import { widePrior } from '../../server/introduction/cells/standing-cells.ts';
import { effectiveFacts } from '../../server/introduction/log/effective-facts.ts';
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import { cellLooks } from '../../server/introduction/log/looks.ts';
import { at, facts, logOf, setupOf, stateAt } from './support/field-log.ts';

type Entries = readonly (readonly [atMs: number, fact: FactPayload])[];
type Split = Parameters<typeof facts.split>[0];
const hourMs = 3_600_000;
const dayMs = 24 * hourMs;

const nothingKnown = stateAt([], at(0)).evidence;
const knownOf = (log: Entries, evidence: Partial<Evidence> = {}) => {
  const read = effectiveFacts('intro-one', logOf(log), at(90));
  return {
    setup: setupOf(),
    facts: read,
    evidence: { ...nothingKnown, ...evidence },
    looks: { all: cellLooks(read) },
  };
};
const recordOf = (log: Entries, evidence: Partial<Evidence> = {}) => cellRecord(knownOf(log, evidence));
const interval = (earliestMs: number | null, latestMs: number | null) => ({
  earliestMs,
  latestMs,
  restsOn: [],
});
const split = (over: Split = {}): Entries[number] => [at(0), facts.split(over)];
const unsure = split({ oldQueen: 'not-seen' });
const taken = (day: number, which: 'old-queen' | 'virgin' | 'young-queen', over = {}): Entries[number] => [
  at(day),
  { kind: 'queen-removed', which, ...over },
];
const frame = (day: number, over: Parameters<typeof facts.broodAdded>[0] = {}): Entries[number] => [
  at(day),
  facts.broodAdded(over),
];
const days = (atMs: number): number => Math.round(1000 * ((atMs - at(0)) / dayMs)) / 1000;

describe('cells after a loss', () => {
  const waves = (log: Entries, evidence?: Partial<Evidence>) =>
    recordOf(log, evidence)
      .waves.filter(({ after }) => after === 'loss')
      .map(({ fromMs, eggMs, weight }) => {
        // She laid until she was lost.
        expect(eggMs).toBe(fromMs);
        return [days(fromMs), Math.round(1000 * weight) / 1000];
      });
  const atSplit = lostAtSplitShare.value;
  const later = Math.round(1000 * ((1 - atSplit) / 5)) / 1000;

  it.each<{ name: string; log: Entries; evidence?: Partial<Evidence>; waves: number[][] }>([
    { name: 'begin with a split whose queen was seen elsewhere', log: [split()], waves: [[0, 1]] },
    {
      name: 'whatever else the evidence bounds',
      log: [split()],
      evidence: { queenlessSince: interval(at(1), at(4)) },
      waves: [[0, 1]],
    },
    {
      name: 'begin where the old queen was found after the split and taken out',
      log: [unsure, taken(3, 'old-queen')],
      evidence: { queenlessSince: interval(at(0), at(5)) },
      waves: [[3, 1]],
    },
    {
      name: 'do not begin anew where a virgin was taken out',
      log: [split(), taken(14, 'virgin')],
      waves: [[0, 1]],
    },
    {
      name: 'lie with the split or between it and the last egg, where she was not seen',
      log: [unsure],
      evidence: { queenlessSince: interval(at(0), at(6)), lastFertileEgg: interval(at(0), at(4)) },
      waves: [
        [0, atSplit],
        [0, later],
        [1, later],
        [2, later],
        [3, later],
        [4, later],
      ],
    },
    {
      name: 'or no later than the first look, where nothing else bounds it',
      log: [unsure, [at(8), facts.inspection()]],
      evidence: { queenlessSince: interval(null, null), lastFertileEgg: interval(null, null) },
      waves: [
        [0, atSplit],
        [0, later],
        [2, later],
        [4, later],
        [6, later],
        [8, later],
      ],
    },
    {
      name: 'with the split alone, where she can have laid no longer',
      log: [unsure],
      evidence: { lastFertileEgg: interval(at(0), at(0)) },
      waves: [[0, 1]],
    },
    {
      name: 'with the split alone, where nobody looked since',
      log: [unsure],
      evidence: { queenlessSince: interval(null, null), lastFertileEgg: interval(null, null) },
      waves: [[0, 1]],
    },
    {
      name: 'spread over the span of the evidence, where no loss was logged',
      log: [],
      evidence: { queenlessSince: interval(at(-5), at(-1)) },
      waves: [-5, -4, -3, -2, -1].map((day) => [day, 0.2]),
    },
    {
      name: 'at one instant, where the evidence leaves one',
      log: [],
      evidence: { queenlessSince: interval(at(-2), at(-2)) },
      waves: [[-2, 1]],
    },
    {
      name: 'up to the first entry, and no longer ago than bees start cells (Fell and Morse 1984), where nothing is known',
      log: [[at(0), facts.hung()]],
      evidence: { queenlessSince: interval(null, null), lastFertileEgg: interval(null, null) },
      waves: [4, 3, 2, 1, 0].map((part) => [0 - (lastCellsDays.value * part) / 4, 0.2]),
    },
    {
      name: 'follow each queen that laid here later and is gone',
      log: [split()],
      evidence: { laterLosses: [at(12)] },
      waves: [
        [0, 1],
        [12, 1],
      ],
    },
  ])('$name', ({ log, evidence, waves: expected }) => {
    expect(waves(log, evidence)).toEqual(expected);
  });
});

describe('cells on brood that is brought in, and those started again after a cut', () => {
  const again = startedAgainShare.value;
  const waves = (log: Entries, evidence: Partial<Evidence> = { firstLastEggMs: at(0) }) =>
    recordOf(log, evidence)
      .waves.filter(({ after }) => after !== 'loss')
      .map(({ after, fromMs, eggMs, weight }) => [after, days(fromMs), days(eggMs), weight]);
  const cut = (day: number): Entries[number] => [at(day), facts.cut({ sealed: 3 })];
  const tooOldDays = highEnd(rearableLimitDays);

  it.each<{ name: string; log: Entries; evidence?: Partial<Evidence>; waves: (string | number)[][] }>([
    { name: 'a frame of eggs', log: [split(), frame(9)], waves: [['frame', 9, 9, again]] },
    {
      name: 'a frame of old larvae',
      log: [split(), frame(9, { brood: 'old-larvae' })],
      waves: [['frame', 9, 9, again]],
    },
    { name: 'a frame of sealed brood: none', log: [split(), frame(9, { brood: 'sealed-only' })], waves: [] },
    { name: 'a test frame: none', log: [split(), frame(9, { asTestFrame: true })], waves: [] },
    { name: 'a cut that found some', log: [split(), cut(5)], waves: [['cut', 5, 0, again]] },
    { name: 'a cut that found none: none', log: [split(), [at(5), facts.cut()]], waves: [] },
    {
      name: 'cells that were seen and left: none',
      log: [split(), [at(5), facts.inspection({ cells: { open: 1, sealed: 2, emerged: 0, tornDown: 0 } })]],
      waves: [],
    },
    {
      name: 'a cut while a larva is young enough',
      log: [split(), [at(0) + tooOldDays * dayMs - 1, facts.cut({ sealed: 1 })]],
      waves: [['cut', tooOldDays, 0, again]],
    },
    {
      name: 'a cut when none is any more: none',
      log: [split(), [at(0) + tooOldDays * dayMs, facts.cut({ sealed: 1 })]],
      waves: [],
    },
    {
      name: 'a cut after a frame: over its larvae',
      log: [split(), frame(4), cut(9)],
      waves: [
        ['frame', 4, 4, again],
        ['cut', 9, 4, again],
      ],
    },
    {
      name: 'a cut in the minute of the frame: over its larvae',
      log: [split(), frame(9), [at(9), facts.cut({ sealed: 1 })]],
      waves: [
        ['frame', 9, 9, again],
        ['cut', 9, 9, again],
      ],
    },
    {
      name: 'a cut after sealed brood or a test frame: over the old larvae',
      log: [split(), frame(2, { brood: 'sealed-only' }), frame(3, { asTestFrame: true }), cut(6)],
      waves: [['cut', 6, 0, again]],
    },
    {
      name: 'a cut after a later queen was lost: over hers',
      log: [split(), cut(14)],
      evidence: { firstLastEggMs: at(0), laterLosses: [at(12), at(20)] },
      waves: [['cut', 14, 12, again]],
    },
    {
      name: 'a cut where nothing bounds the last egg: as if laid that day',
      log: [unsure, cut(9)],
      evidence: { firstLastEggMs: null, lastFertileEgg: interval(at(0), at(0)) },
      waves: [['cut', 9, 9, again]],
    },
  ])('$name', ({ log, evidence, waves: expected }) => {
    expect(waves(log, evidence)).toEqual(expected);
  });

  it('of a queen that nobody saw leave, most often over the larvae of the split', () => {
    const evidence = { firstLastEggMs: at(3), likelyLastEggMs: at(0) };
    const share = lostAtSplitShare.value;
    expect(waves([unsure, cut(6)], evidence)).toEqual([
      ['cut', 6, 0, again * share],
      ['cut', 6, 3, again * (1 - share)],
    ]);
    // By then those of the split are too old.
    expect(waves([unsure, cut(8)], evidence)).toEqual([['cut', 8, 3, again * (1 - share)]]);
  });

  it.each<{ name: string; log: Entries; evidence: Partial<Evidence>; egg: number }>([
    {
      name: 'a loss that is sure has one last egg',
      log: [split(), cut(6)],
      evidence: { firstLastEggMs: at(3), likelyLastEggMs: at(0) },
      egg: 3,
    },
    {
      name: 'as has one that nobody logged',
      log: [cut(6)],
      evidence: { firstLastEggMs: at(3), likelyLastEggMs: at(0) },
      egg: 3,
    },
    {
      name: 'one whose likely last egg is not known',
      log: [unsure, cut(6)],
      evidence: { firstLastEggMs: at(3), likelyLastEggMs: null },
      egg: 3,
    },
    {
      name: 'one whose likely last egg is the last',
      log: [unsure, cut(6)],
      evidence: { firstLastEggMs: at(3), likelyLastEggMs: at(3) },
      egg: 3,
    },
    {
      name: 'and one that younger brood was brought to',
      log: [unsure, frame(4), cut(6)],
      evidence: { firstLastEggMs: at(3), likelyLastEggMs: at(0) },
      egg: 4,
    },
  ])('$name', ({ log, evidence, egg }) => {
    expect(waves(log, evidence).filter(([after]) => after === 'cut')).toEqual([['cut', 6, egg, again]]);
  });

  it('the last egg before an instant is unknown where nothing bounds the first', () => {
    expect(lastEggBefore(at(9), knownOf([frame(4)], { firstLastEggMs: null }))).toBeNull();
    expect(lastEggBefore(at(3), knownOf([frame(4)], { firstLastEggMs: at(0) }))).toBe(at(0));
  });
});

describe('swarm cells', () => {
  it.each<{ there: NonNullable<NonNullable<Split>['cellsAlreadyThere']>; chance: number | undefined }>([
    { there: 'none', chance: undefined },
    { there: 'present-and-left', chance: 1 },
    { there: 'present-and-removed', chance: 1 },
    { there: 'not-looked', chance: swarmCellsUnlookedShare.value },
  ])('stood at the split: $there', ({ there, chance }) => {
    expect(recordOf([split({ cellsAlreadyThere: there })]).swarm).toEqual(
      chance === undefined ? undefined : { atMs: at(0), chance },
    );
  });

  it('where nobody logged a loss none are reckoned with', () => {
    expect(recordOf([[at(1), facts.hung()]])).not.toHaveProperty('swarm');
  });

  const out = { cellsAlreadyThere: 'present-and-removed' } as const;
  const first = (log: Entries) => recordOf(log).looks[0];
  it('that were taken out at the split are what a look found', () => {
    const found = { atMs: at(0), emerged: null, virginSought: false };
    expect(first([split({ ...out, cellsTakenOut: 4 })])).toEqual({ ...found, cells: 4 });
    expect(first([split(out)])).toEqual({ ...found, cells: null });
    expect(first([split(out), [at(1), facts.cut()]])).toEqual({ ...found, cells: null });
  });

  it('unless the same day has a whole look', () => {
    expect(recordOf([split(out), [at(0, 15), facts.cut({ open: 2 })]]).looks).toMatchObject([
      { atMs: at(0, 15), cells: 2 },
    ]);
  });

  it.each(['none', 'present-and-left', 'not-looked'] as const)('%s: nothing was found', (there) => {
    expect(recordOf([split({ cellsAlreadyThere: there })]).looks).toEqual([]);
  });
});

describe('what a look covers', () => {
  const noFrames = { everyFrameChecked: false };
  const noShaking = { beesShakenOff: false };
  const uncounted = { cells: {} };
  // The split of `facts` has four frames.
  it.each<{ name: string; look: FactPayload; share: number | undefined }>([
    { name: 'every frame, bees shaken off', look: facts.cut({ sealed: 2 }), share: 1 },
    { name: 'the same without a cut, nothing found', look: facts.inspection(), share: 1 },
    { name: 'a cut with the bees left on', look: facts.cut({}, noShaking), share: unshakenLookShare.value },
    {
      name: 'a cut that left frames out',
      look: facts.cut({}, noFrames),
      share: unfinishedCutShare.value,
    },
    {
      name: 'a cut that left one of four out',
      look: facts.cut({}, { ...noFrames, framesSkipped: 1 }),
      share: 0.75,
    },
    {
      name: 'both',
      look: facts.cut({}, { ...noFrames, ...noShaking, framesSkipped: 1 }),
      share: 0.75 * unshakenLookShare.value,
    },
    {
      name: 'an inspection that left frames out: nothing',
      look: facts.inspection(noFrames),
      share: undefined,
    },
    {
      name: 'a cut that counted nothing: nothing',
      look: facts.cut({}, { ...noShaking, ...uncounted }),
      share: undefined,
    },
    {
      name: 'a look for the queen, though it took cells down: nothing',
      look: facts.looked({ cells: { open: 1, sealed: 0, emerged: 0, tornDown: 0 }, cellsTakenDown: true }),
      share: undefined,
    },
    {
      name: 'a look that saw cells and left them: nothing yet',
      look: facts.inspection({ cells: { open: 0, sealed: 1, emerged: 0, tornDown: 0 } }),
      share: undefined,
    },
  ])('$name', ({ look, share }) => {
    expect(recordOf([split(), [at(7), look]]).looks.map((one) => one.share)).toEqual(
      share === undefined ? [] : [share],
    );
  });
});

describe('looks of one visit', () => {
  const cut = (
    atMs: number,
    found: Parameters<typeof facts.cut>[0],
    over: Parameters<typeof facts.cut>[1] = {},
  ): Entries[number] => [atMs, facts.cut(found, over)];
  const looks = (...log: Entries) => recordOf([split(), ...log]).looks;

  it('are one: its cells together, of shells and remains the more, and what it covered at best', () => {
    expect(
      looks(
        cut(at(7, 9), { open: 1, sealed: 2, emerged: 1, tornDown: 0 }, { beesShakenOff: false }),
        cut(at(7, 18), { sealed: 4, emerged: 0, tornDown: 2 }),
      ),
    ).toEqual([{ atMs: at(7, 9), cells: 7, emerged: 1, tornDown: 2, share: 1, virginSought: true }]);
  });

  it.each<{ name: string; counts: readonly [number | undefined, number | undefined]; seen: number | null }>([
    { name: 'the first', counts: [2, undefined], seen: 2 },
    { name: 'the second', counts: [undefined, 2], seen: 2 },
    { name: 'neither', counts: [undefined, undefined], seen: null },
    { name: 'both', counts: [3, 1], seen: 3 },
  ])('where $name counted shells and remains', ({ counts, seen }) => {
    const [first, second] = counts.map((n) => {
      const more = n === undefined ? {} : { emerged: n, tornDown: n };
      return { cells: { open: 0, sealed: 0, ...more } };
    });
    expect(looks(cut(at(7, 9), {}, first), cut(at(7, 11), {}, second))).toMatchObject([
      { emerged: seen, tornDown: seen },
    ]);
  });

  it.each<{ sought: readonly boolean[]; either: boolean }>([
    { sought: [false, false], either: false },
    { sought: [true, false], either: true },
    { sought: [false, true], either: true },
  ])('a virgin was looked for where one of them says so: $sought', ({ sought, either }) => {
    const log = sought.map((says, i) => {
      const { virginSeen, ...unsaid } = facts.cut() as Extract<FactPayload, { kind: 'cells-cut' }>;
      return [at(7, 9 + i), says ? { ...unsaid, virginSeen } : unsaid] as const;
    });
    expect(looks(...log).map(({ virginSought }) => virginSought)).toEqual([either]);
  });

  it('go on across midnight, for as long as a visit lasts', () => {
    const late = at(7, 22);
    const lastsMs = visitHours.value * hourMs;
    expect(looks(cut(late, { open: 1 }), cut(late + lastsMs - 1, { open: 2 }))).toMatchObject([{ cells: 3 }]);
    expect(looks(cut(late, { open: 1 }), cut(late + lastsMs, { open: 2 }))).toMatchObject([
      { cells: 1 },
      { cells: 2 },
    ]);
  });

  it('of two days are two', () => {
    expect(looks(cut(at(7), { open: 1 }), cut(at(8), { open: 2 }))).toHaveLength(2);
  });

  it('that did not count what was torn down say nothing of it, whatever hung before', () => {
    const uncounted = { cells: { open: 0, sealed: 0 } };
    expect(looks(cut(at(7), { tornDown: 4 }), cut(at(8), {}, uncounted))[1]?.tornDown).toBeNull();
  });
});

describe('virgins that are ruled out', () => {
  const tooOldMs = at(0) + highEnd(rearableLimitDays) * dayMs;
  const allOutMs = at(0) + highEnd(queenEmergesDays) * dayMs;
  const found = (atMs: number, sealed = 2): Entries[number] => [
    atMs,
    facts.inspection({ cells: { open: 0, sealed, emerged: 0, tornDown: 0 } }),
  ];
  const brought = (atMs: number, over: Parameters<typeof facts.broodAdded>[0] = {}): Entries[number] => [
    atMs,
    facts.broodAdded(over),
  ];
  const ruledOut = (log: Entries, firstLastEggMs: number | null = at(0)): number | undefined =>
    recordOf([split(), ...log], { firstLastEggMs }).noVirginAtMs;

  it.each<{ name: string; log: Entries; egg?: null; atMs: number | undefined }>([
    {
      name: 'by cells on a frame that came when no other larva was young enough, once all others must be out',
      log: [brought(at(9)), found(at(18))],
      atMs: at(9),
    },
    { name: 'to the instant', log: [brought(tooOldMs), found(allOutMs + 1)], atMs: tooOldMs },
    { name: 'not, a moment sooner', log: [brought(tooOldMs - 1), found(at(18))], atMs: undefined },
    { name: 'not, while a queen may still hatch', log: [brought(at(9)), found(allOutMs)], atMs: undefined },
    {
      name: 'not on sealed brood',
      log: [brought(at(9), { brood: 'sealed-only' }), found(at(18))],
      atMs: undefined,
    },
    { name: 'not where nothing was found', log: [brought(at(9)), found(at(18), 0)], atMs: undefined },
    { name: 'not by cells found before it came', log: [found(at(18)), brought(at(19))], atMs: undefined },
    { name: 'not where nobody looked', log: [brought(at(9))], atMs: undefined },
    {
      name: 'not where the last egg is not known',
      log: [brought(at(9)), found(at(18))],
      egg: null,
      atMs: undefined,
    },
    {
      name: 'by one look of several',
      log: [brought(at(9)), found(at(11)), found(at(18)), found(at(20), 0)],
      atMs: at(9),
    },
    {
      name: 'as of the first of two such frames',
      log: [brought(at(9)), brought(at(11)), found(at(18))],
      atMs: at(9),
    },
    {
      name: 'by cells on a test frame, as of when it went in',
      log: [brought(at(10), { asTestFrame: true }), [at(11, 14), facts.broodTaken({ cellsOnIt: 3 })]],
      atMs: at(10),
    },
    {
      name: 'not by one without',
      log: [brought(at(10), { asTestFrame: true }), [at(11, 14), facts.broodTaken({ cellsOnIt: 0 })]],
      atMs: undefined,
    },
    {
      name: 'by the later of both',
      log: [
        brought(at(9)),
        brought(at(12), { asTestFrame: true }),
        [at(13, 14), facts.broodTaken({ cellsOnIt: 3 })],
        found(at(18)),
      ],
      atMs: at(12),
    },
  ])('$name', ({ log, egg = at(0), atMs }) => {
    expect(ruledOut(log, egg)).toBe(atMs);
  });
});

describe('queens that were found and taken away', () => {
  const shell: Entries[number] = [at(13), facts.cut({ emerged: 1 })];
  it.each<{ name: string; log: Entries; settled: number | undefined; missed: boolean | undefined }>([
    { name: 'nobody', log: [split()], settled: undefined, missed: undefined },
    { name: 'the old queen', log: [unsure, taken(3, 'old-queen')], settled: undefined, missed: undefined },
    { name: 'a virgin without a shell', log: [split(), taken(14, 'virgin')], settled: at(14), missed: true },
    {
      name: 'a virgin and a shell',
      log: [split(), shell, taken(14, 'virgin')],
      settled: at(14),
      missed: false,
    },
    {
      name: 'two virgins, one shell',
      log: [split(), shell, taken(14, 'virgin'), taken(15, 'virgin')],
      settled: at(15),
      missed: true,
    },
    {
      name: 'a young queen that lays',
      log: [split(), taken(25, 'young-queen')],
      settled: at(25),
      missed: false,
    },
  ])('$name', ({ log, settled, missed }) => {
    const { settledAtMs, virginTaken } = recordOf(log);
    expect([settledAtMs, virginTaken]).toEqual([settled, missed]);
  });
});

it('the share of cells that a keeper passes over is his own, where it is known', () => {
  const known = knownOf([split()]);
  const own = { alpha: 3, beta: 40 };
  expect(cellRecord(known).missRate).toBe(widePrior);
  expect(cellRecord({ ...known, setup: setupOf({ missRate: own }) }).missRate).toBe(own);
});
