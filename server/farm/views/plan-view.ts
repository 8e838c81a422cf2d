/** The work list by day and site, and what a batch would look like. */
import { atHourOfDate, addDays, isoDate } from '../../introduction/calendar.ts';
import { planIntroduction, type PlanStep } from '../../introduction/plan.ts';
import { planWords } from '../../introduction/plan-step.ts';
import { trips } from '../../introduction/plan-days.ts';
import { foldIntroduction, type IntroductionSetup } from '../../introduction/state.ts';
import { firstCutDay } from '../../biology/practice-figures.ts';
import type { BatchPreview, PlanDto } from '../../http/contract/plan.ts';
import type { ParsedBodyOf, ParsedQueryOf } from '../../http/contract/index.ts';
import type { NucAnalysis } from '../nuc-analysis.ts';
import { stepToWire } from './plan-steps.ts';

export function planView(
  analyses: readonly NucAnalysis[],
  query: ParsedQueryOf<'getPlan'>,
  unavailable: readonly string[],
  nowMs: number,
): PlanDto {
  const byNuc = new Map(analyses.map((analysis) => [analysis.nuc.id, analysis]));
  const all = trips(
    analyses.flatMap(({ plan }) => plan),
    (nucId) => {
      const { site } = found(byNuc, nucId);
      return { siteId: site.id, timeZone: site.timeZone };
    },
  );
  const within = (date: string): boolean =>
    (query.from === undefined || date >= query.from) && (query.to === undefined || date <= query.to);
  const days = all.filter(
    ({ date, siteId }) => within(date) && (query.site === undefined || siteId === query.site),
  );
  return {
    unavailable: [...unavailable],
    items: days.map(({ date, siteId, steps, bring }) => ({
      date,
      siteId,
      siteName: found(byNuc, steps[0]?.nucId ?? '').site.name,
      steps: steps.map((step) => stepToWire(found(byNuc, step.nucId), step, nowMs)),
      bring: [...bring],
      clashes: [...new Set(steps.flatMap((step) => step.clashes))],
    })),
  };
}

function found(byNuc: ReadonlyMap<string, NucAnalysis>, nucId: string): NucAnalysis {
  const analysis = byNuc.get(nucId);
  if (!analysis) throw new Error(`a step belongs to the unknown nuc ${nucId}`);
  return analysis;
}

export interface BatchPlace {
  readonly timeZone: string;
  /** Local date on which the queens are expected, where they belong to a delivery. */
  readonly arrival?: string;
  readonly unavailable: readonly string[];
}

const splitHour = 10;

/** The day of the split: as asked for, or so that the first late cut falls on the day on which the queens come. */
export function splitDate(
  input: ParsedBodyOf<'previewBatch'>,
  { timeZone, arrival }: BatchPlace,
): string | undefined {
  if (input.by === 'split' || arrival === undefined) return input.splitOn;
  return isoDate(addDays(atHourOfDate(arrival, splitHour, timeZone), -firstCutDay.value, timeZone), timeZone);
}

/** Steps of an introduction that would start on that day; nothing is stored. */
export function previewSteps(
  setup: IntroductionSetup,
  unavailable: readonly string[],
  nowMs: number,
): readonly PlanStep[] {
  return planIntroduction(foldIntroduction(setup, [], nowMs), { unavailable });
}

export function previewToWire(splitOn: string, steps: readonly PlanStep[], timeZone: string): BatchPreview {
  const date = (atMs: number): string => isoDate(atMs, timeZone);
  return {
    splitOn,
    steps: steps.map(({ kind, earliestMs, targetMs, latestMs, why }) => ({
      kind,
      label: planWords[kind],
      earliest: date(earliestMs),
      target: date(targetMs),
      latest: date(latestMs),
      why: [...why],
    })),
    clashes: [
      ...new Set(
        steps.flatMap(({ kind, clashes }) => clashes.map((clash) => `${planWords[kind]}: ${clash}`)),
      ),
    ],
  };
}
