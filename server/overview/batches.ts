/** How the nucs stand against the others of their batch, from what was last worked out about each. */
import { isoDate } from '../introduction/calendar.ts';
import { batchStandings } from '../rules/batch-standing.ts';
import type { NucInput } from '../rules/inputs.ts';
import { groupBy } from './group-by.ts';
import type { NucAnalysis } from './nuc-analysis.ts';

type Batch = NonNullable<NucInput['batch']>;

export function standings(analyses: readonly NucAnalysis[]): ReadonlyMap<string, Batch> {
  const found = new Map<string, Batch>();
  for (const [name, members] of groupBy(analyses, ({ nuc }) => nuc.batch)) {
    if (name === undefined) continue;
    const aligned = members.flatMap(({ nuc, site, state, signals }) =>
      state?.day0Ms == null
        ? []
        : [{ nucId: nuc.id, dayZero: isoDate(state.day0Ms, site.timeZone), signals }],
    );
    for (const [nucId, batch] of batchStandings(name, aligned)) found.set(nucId, batch);
  }
  return found;
}
