/** The work list by day and site. */
import { openBroodBoxC } from '../../biology/figures.ts';
import { isoDate, startOfDayAfter } from '../../introduction/calendar.ts';
import { trips } from '../../introduction/acts/days/plan-days.ts';
import type { PlanDto } from '../../contract/plan.ts';
import type { ParsedQueryOf } from '../../contract/index.ts';
import { staysBarred, waitsForInspector, type PlanStep } from '../../introduction/acts/plan-step.ts';
import type { Site } from '../../store/places/sites.ts';
import type { NucAnalysis } from '../../watch/nuc-analysis.ts';
import { degC, inWords, say } from '../../words/phrase.ts';
import { stepToWire } from './plan-steps.ts';

export function planView(
  analyses: readonly NucAnalysis[],
  query: ParsedQueryOf<'getPlan'>,
  unavailable: readonly string[],
  nowMs: number,
  {
    queenOf = () => undefined,
    goWithout = new Set(),
    warmestC = () => undefined,
  }: {
    readonly queenOf?: (analysis: NucAnalysis) => string | undefined;
    /** Nucs that no queen is left for. */
    readonly goWithout?: ReadonlySet<string>;
    /** What the forecast tells of a date, °C. */
    readonly warmestC?: (site: Site, date: string) => number | undefined;
  } = {},
): PlanDto {
  const byNuc = new Map(analyses.map((analysis) => [analysis.nuc.id, analysis]));
  const all = trips(
    analyses.flatMap(({ plan }) => plan),
    (nucId) => {
      const { site } = found(byNuc, nucId);
      return { siteId: site.id, timeZone: site.timeZone };
    },
  );
  const days = all.filter(({ date, siteId, steps }) => {
    if (query.site !== undefined && siteId !== query.site) return false;
    const { from, to } = asked(query, nowMs, found(byNuc, steps[0]?.nucId ?? '').site.timeZone);
    return from.every((first) => date >= first) && to.every((last) => date <= last);
  });
  return {
    unavailable: [...unavailable],
    items: days.map(({ date, siteId, steps, bring }) => ({
      date,
      siteId,
      siteName: found(byNuc, steps[0]?.nucId ?? '').site.name,
      steps: steps.map((step) => {
        const analysis = found(byNuc, step.nucId);
        const queen = queenFor(step, analysis, queenOf);
        return { ...stepToWire(analysis, step, nowMs), ...(queen !== undefined && { queen }) };
      }),
      bring: withQueens(
        bring,
        steps.map((step) => queenFor(step, found(byNuc, step.nucId), queenOf)),
      ),
      clashes: [
        ...new Set(steps.flatMap((step) => step.clashes)),
        ...withoutQueen(steps, (nucId) => goWithout.has(nucId) && found(byNuc, nucId).nuc.name),
        ...coldDay(steps, found(byNuc, steps[0]?.nucId ?? ''), (site) => warmestC(site, date)),
      ],
    })),
  };
}

/** Without a queen a split is better left, and no cage is to be hung. */
function withoutQueen(steps: readonly PlanStep[], without: (nucId: string) => string | false): string[] {
  const names = (wanted: PlanStep['kind']): string =>
    steps
      .filter((step) => step.kind === wanted && !step.done && !waitsForInspector(step))
      .flatMap(({ nucId }) => without(nucId) || [])
      .join(', ');
  const [unsplit, waiting] = [names('split'), names('hang-cage')];
  return [
    ...(unsplit ? [`No queen is left for ${unsplit}: leave the split until one is on order.`] : []),
    ...(waiting
      ? [
          `No queen is left for ${waiting}: “Which nuc gets which queen” on the Plan page says what can be done.`,
        ]
      : []),
  ];
}

/** Whoever reads it may choose another day, or be quick. */
function coldDay(
  steps: readonly PlanStep[],
  { site, display }: NucAnalysis,
  warmestC: (site: Site) => number | undefined,
): string[] {
  if (steps.every(({ done }) => done)) return [];
  const highC = warmestC(site);
  return highC === undefined || highC >= openBroodBoxC.value
    ? []
    : [inWords(say`At most ${degC(highC)} is forecast: brood frames cool fast, so be quick.`, display)];
}

const hangsHer = new Set<PlanStep['kind']>(['hang-cage']);

const queenFor = (
  step: PlanStep,
  analysis: NucAnalysis,
  queenOf: (analysis: NucAnalysis) => string | undefined,
): string | undefined => (hangsHer.has(step.kind) && !staysBarred(step) ? queenOf(analysis) : undefined);

/** Queens by name in place of "caged queen", where they have names. */
function withQueens(bring: readonly string[], named: readonly (string | undefined)[]): string[] {
  const queens = [...new Set(named.filter((name) => name !== undefined))];
  if (queens.length === 0) return [...bring];
  const words = `${queens.length === 1 ? 'queen' : 'queens'} ${queens.join(', ')} (kept warm)`;
  return [words, ...bring.filter((thing) => !/queen, kept warm$/.test(thing))];
}

/** The dates that bound the list: those that are named, and those that are counted from today at the site. */
function asked(query: ParsedQueryOf<'getPlan'>, nowMs: number, timeZone: string) {
  const inDays = (days: number): string => isoDate(startOfDayAfter(nowMs, days, timeZone), timeZone);
  return {
    from: [
      ...(query.from === undefined ? [] : [query.from]),
      ...(query.back === undefined ? [] : [inDays(-query.back)]),
    ],
    to: [
      ...(query.to === undefined ? [] : [query.to]),
      ...(query.ahead === undefined ? [] : [inDays(query.ahead)]),
    ],
  };
}

function found(byNuc: ReadonlyMap<string, NucAnalysis>, nucId: string): NucAnalysis {
  const analysis = byNuc.get(nucId);
  if (!analysis) throw new Error(`a step belongs to the unknown nuc ${nucId}`);
  return analysis;
}
