/** The work list by day and site. */
import { trips } from '../../introduction/plan-days.ts';
import type { PlanDto } from '../../http/contract/plan.ts';
import type { ParsedQueryOf } from '../../http/contract/index.ts';
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
