/** Lays out what will happen to a nuc: the keeper's visits by the calendar, the queen's dates, and the scenario's trouble. */
import { abscondShare } from '../constants.ts';
import type { Happening, TrueEvent, VisitPurpose } from '../happenings.ts';
import { hourMs, localHour, minuteMs, type SimPlace } from '../place.ts';
import type { Rng } from '../random.ts';
import type { IntroductionDays, ScenarioName } from '../scenarios.ts';
import type { Weather, WeatherSpell } from '../weather.ts';

export interface Timeline {
  readonly happenings: readonly Happening[];
  /** Events known from the calendar alone; the model adds those that come of its own course. */
  readonly events: readonly TrueEvent[];
  readonly cageHungMs: number;
  /** When the cage no longer holds a queen: she walked out, or was killed. */
  readonly cageEmptyMs: number;
}

export interface Setting {
  readonly scenario: ScenarioName;
  readonly days: IntroductionDays;
  readonly splitMs: number;
  readonly place: SimPlace;
  /** The keeper's visits end here, for runs that go on into a future still to be decided. */
  readonly visitsUntilMs: number;
}

const dayMs = 24 * hourMs;

/** Weather that a scenario imposes. */
export function scenarioSpells(rng: Rng, { scenario, splitMs, place }: Setting): WeatherSpell[] {
  if (scenario === 'cold-snap') {
    const fromMs = localHour(splitMs, rng.whole(3, 6), rng.between(14, 20), place.timeZone);
    const toMs = fromMs + rng.between(40, 72) * hourMs;
    return [{ fromMs, toMs, warmerC: -rng.between(9, 12), overcast: true }];
  }
  if (scenario === 'rain-held') {
    const toMs = localHour(splitMs, rng.whole(4, 6), 7, place.timeZone);
    return [{ fromMs: splitMs - 12 * hourMs, toMs, warmerC: -5, overcast: true, rainShare: 0.6 }];
  }
  return [];
}

export function layOut(rng: Rng, setting: Setting, weather: Weather, flight: Float32Array): Timeline {
  const { days, splitMs, place } = setting;
  const draft: Draft = { happenings: [], events: [{ atMs: splitMs, kind: 'split' }] };
  const at = (day: number) => localHour(splitMs, day, rng.between(10, 16), place.timeZone);
  // The move follows the split at once: the box is opened and carried before its scale tells much.
  visit(draft, rng, splitMs + 2 * minuteMs, 'move', 0);

  const cutMs = days.cut.map((day) => at(day));
  const cageHungMs = cutMs[days.cut.indexOf(days.cageHung)] ?? at(days.cageHung);
  const candyMs = cutMs[days.cut.indexOf(days.candyOpened)] ?? at(days.candyOpened);
  const visits = new Map<number, VisitPurpose>();
  for (const ms of cutMs) visits.set(ms, 'cut-cells');
  if (!visits.has(cageHungMs)) visits.set(cageHungMs, 'hang-cage');
  if (!visits.has(candyMs)) visits.set(candyMs, 'open-candy');
  for (const day of days.look) visits.set(at(day), day - days.candyOpened < 3 ? 'look-in-hands-off' : 'look');
  for (const [ms, purpose] of visits) visit(draft, rng, ms, purpose, rng.between(-60, 60));
  for (const ms of cutMs) draft.events.push({ atMs: ms, kind: 'cells-cut' });
  draft.events.push({ atMs: cageHungMs, kind: 'cage-hung' }, { atMs: candyMs, kind: 'candy-opened' });

  const emptyMs = queensFate(draft, rng, setting, candyMs, visits);
  const cageEmptyMs = candyMs < setting.visitsUntilMs ? emptyMs : Infinity;
  trouble(draft, rng, setting, weather, flight);
  return { ...withoutTheImpossible(draft, setting.visitsUntilMs, candyMs), cageHungMs, cageEmptyMs };
}

/**
 * Without the keeper there is no visit, and a queen whose candy was never opened neither walks out nor lays. Nobody lays
 * where the colony has left.
 */
function withoutTheImpossible(draft: Draft, untilMs: number, candyMs: number): Draft {
  const leftMs = draft.events.find(({ kind }) => kind === 'absconded')?.atMs ?? Infinity;
  const queens: readonly string[] = ['queen-released', 'queen-laying', 'queen-killed', 'laying-stopped'];
  const visits: readonly string[] = ['visit', 'opened', 'cage-hung', 'cells-cut', 'candy-opened'];
  const stays = ({ kind, atMs }: { kind: string; atMs: number }) =>
    !(visits.includes(kind) && atMs >= untilMs) &&
    !(queens.includes(kind) && candyMs >= untilMs) &&
    !(kind === 'queen-laying' && atMs >= leftMs);
  return {
    happenings: draft.happenings.filter(stays).sort((a, b) => a.atMs - b.atMs),
    events: draft.events.filter(stays).sort((a, b) => a.atMs - b.atMs),
  };
}

/** The timeline with the happenings that the caller asks for, each with its true event. */
export function withMore(timeline: Timeline, more: readonly Happening[]): Timeline {
  if (more.length === 0) return timeline;
  const events = more.flatMap((h): TrueEvent[] => {
    if (h.kind === 'robbed' || h.kind === 'drifted-in')
      return [{ atMs: h.atMs, untilMs: h.untilMs, kind: h.kind }];
    if (h.kind !== 'load-changed') return [];
    const note = h.feed ? { note: 'feed' } : {};
    return [{ atMs: h.atMs, kind: h.netG > 0 ? 'added' : 'taken', sizeG: h.netG, ...note }];
  });
  const byTime = (a: { atMs: number }, b: { atMs: number }): number => a.atMs - b.atMs;
  return {
    ...timeline,
    happenings: [...timeline.happenings, ...more].sort(byTime),
    events: [...timeline.events, ...events].sort(byTime),
  };
}

interface Draft {
  readonly happenings: Happening[];
  readonly events: TrueEvent[];
}

function visit(draft: Draft, rng: Rng, atMs: number, purpose: VisitPurpose, netG: number): void {
  const minutes = rng.whole(5, 12);
  draft.happenings.push({ kind: 'visit', atMs, minutes, purpose, netG });
  const untilMs = atMs + minutes * minuteMs;
  draft.events.push({ atMs, untilMs, kind: 'opened', sizeG: netG, note: purpose });
}

/** Released 12 hours to 3 days after the candy was opened (common practice), laying 1-4 days on; or killed. */
function queensFate(
  draft: Draft,
  rng: Rng,
  { scenario, splitMs }: Setting,
  candyMs: number,
  visits: ReadonlyMap<number, VisitPurpose>,
): number {
  const releasedMs = candyMs + rng.between(12, 72) * hourMs;
  const layingMs = releasedMs + rng.between(1, 4) * dayMs;
  const virginMs = splitMs + rng.between(10.5, 14) * dayMs;
  if (scenario === 'missed-cell') {
    const killedMs = Math.max(virginMs, releasedMs) + rng.between(2, 24) * hourMs;
    draft.events.push({ atMs: virginMs, kind: 'virgin-emerged' });
    draft.events.push({ atMs: releasedMs, kind: 'queen-released' }, { atMs: killedMs, kind: 'queen-killed' });
    // She mates and lays some 10-14 days after emerging (common practice).
    laying(draft, virginMs + rng.between(10, 14) * dayMs, 'the virgin, mated');
    return releasedMs;
  }
  const early = [...visits].find(([, purpose]) => purpose === 'look-in-hands-off');
  if (early) {
    if (releasedMs < early[0]) draft.events.push({ atMs: releasedMs, kind: 'queen-released' });
    draft.events.push({ atMs: early[0] + 30 * minuteMs, kind: 'queen-killed', note: 'opened in hands-off' });
    return Math.min(releasedMs, early[0] + 30 * minuteMs);
  }
  draft.events.push({ atMs: releasedMs, kind: 'queen-released' });
  laying(draft, layingMs);
  return releasedMs;
}

function laying(draft: Draft, atMs: number, note?: string): void {
  draft.happenings.push({ kind: 'queen-laying', atMs });
  draft.events.push({ atMs, kind: 'queen-laying', ...(note ? { note } : {}) });
}

/** The scenario's own trouble. */
function trouble(draft: Draft, rng: Rng, setting: Setting, weather: Weather, flight: Float32Array): void {
  const { scenario, splitMs, place, days } = setting;
  const clock = (day: number, hour: number) => localHour(splitMs, day, hour, place.timeZone);
  if (scenario === 'absconded') abscond(draft, rng, setting, weather, flight);
  if (scenario === 'robbed') {
    const atMs = clock(rng.whole(8, 12), rng.between(10, 12));
    const untilMs = atMs + rng.between(2.5, 4) * dayMs;
    draft.happenings.push({ kind: 'robbed', atMs, untilMs, gPerHour: rng.between(40, 150) });
    draft.events.push({ atMs, untilMs, kind: 'robbed' });
  }
  if (scenario === 'toppled') {
    const atMs = clock(rng.whole(3, 13), rng.between(0, 23.9));
    const untilMs = clock(Math.ceil((atMs - splitMs) / dayMs) + 1, rng.between(9, 15));
    draft.happenings.push({ kind: 'toppled', atMs, untilMs });
    draft.events.push({ atMs, untilMs, kind: 'toppled' });
  }
  if (scenario === 'lifted') {
    const atMs = clock(rng.whole(3, 13), rng.between(7, 21));
    const minutes = rng.whole(2, 12);
    draft.happenings.push({ kind: 'lifted', atMs, minutes, zeroG: rng.between(-60, 60) });
    draft.events.push({ atMs, untilMs: atMs + minutes * minuteMs, kind: 'lifted' });
  }
  if (scenario === 'stolen') {
    const atMs = clock(rng.whole(3, 13), rng.between(0, 5));
    draft.happenings.push({ kind: 'stolen', atMs });
    draft.events.push({ atMs, kind: 'stolen' });
  }
  if (scenario === 'handled') handle(draft, rng, clock, days);
}

/** Nearly all leave together on a flying morning of the hands-off days. */
function abscond(draft: Draft, rng: Rng, setting: Setting, weather: Weather, flight: Float32Array): void {
  const { splitMs, place, days } = setting;
  const day = days.candyOpened + rng.whole(1, 4);
  let atMs = localHour(splitMs, day, rng.between(10, 14), place.timeZone);
  for (let i = Math.floor((atMs - weather.startMs) / minuteMs); i < flight.length; i++) {
    if ((flight[i] ?? 0) < 0.35) continue;
    atMs = weather.startMs + i * minuteMs;
    break;
  }
  const minutes = rng.whole(10, 35);
  const share = rng.between(abscondShare.low, abscondShare.high);
  draft.happenings.push({ kind: 'absconded', atMs, minutes, share }, { kind: 'laying-stopped', atMs });
  draft.events.push({ atMs, untilMs: atMs + minutes * minuteMs, kind: 'absconded' });
}

/** Feeds, frames and stones of 200 g and more, by day and with or without opening. */
function handle(
  draft: Draft,
  rng: Rng,
  clock: (day: number, hour: number) => number,
  days: IntroductionDays,
): void {
  const busy = new Set([0, days.cageHung, ...days.cut, days.candyOpened, ...days.look]);
  for (let day = 1; day <= 19; day++) {
    if (busy.has(day) || !rng.chance(0.5)) continue;
    const size = rng.between(200, 2500);
    const netG = rng.chance(0.35) ? -Math.min(size, 1500) : size;
    const atMs = clock(day, rng.between(9, 17));
    if (rng.chance(0.5)) visit(draft, rng, atMs, 'handle', netG);
    else draft.happenings.push({ kind: 'load-changed', atMs, netG, feed: netG > 0 && rng.chance(0.5) });
    draft.events.push({ atMs, kind: netG > 0 ? 'added' : 'taken', sizeG: netG });
  }
}
