import type { ParsedBodyOf, ParsedQueryOf, ResponseOf } from '../../../server/contract/index.ts';
import type { Farm } from './farm.ts';

const addDays = (date: string, days: number): string =>
  new Date(Date.parse(`${date}T00:00:00Z`) + days * 86_400_000).toISOString().slice(0, 10);

const isGiven = (date: string | undefined): date is string => date !== undefined;

export function planOf(farm: Farm, query: ParsedQueryOf<'getPlan'>): ResponseOf<'getPlan'> {
  const days = new Map<string, ResponseOf<'getPlan'>['items'][number]>();
  const today = new Date(farm.nowMs()).toISOString().slice(0, 10);
  const from = [query.from, query.back === undefined ? undefined : addDays(today, -query.back)].filter(
    isGiven,
  );
  const to = [query.to, query.ahead === undefined ? undefined : addDays(today, query.ahead)].filter(isGiven);
  for (const step of [...farm.details.values()].flatMap((one) => one.plan)) {
    const date = step.target.slice(0, 10);
    if (from.some((first) => date < first) || to.some((last) => date > last)) continue;
    const key = `${date} ${step.siteId}`;
    const clash = farm.unavailable.includes(date) ? ['You said you can’t work on this day.'] : [];
    const day = days.get(key) ?? {
      date,
      siteId: step.siteId,
      siteName: step.siteName,
      steps: [],
      bring: step.whatToBring,
      clashes: clash,
    };
    day.steps.push(step);
    days.set(key, day);
  }
  return {
    items: [...days.values()].sort((a, b) => a.date.localeCompare(b.date)),
    unavailable: farm.unavailable,
  };
}

const steps = [
  ['split', 'Make the split', 0],
  ['cut-cells', 'Cut the cells', 7],
  ['hang-cage', 'Hang the cage', 7],
  ['second-look', 'Second look for cells', 10],
  ['open-candy', 'Open the candy end', 10],
  ['look-for-queen', 'Look for the queen', 17],
] as const;

export function previewOf(farm: Farm, body: ParsedBodyOf<'previewBatch'>): ResponseOf<'previewBatch'> {
  const expected =
    farm.arrivals.find((one) => one.id === body.arrivalId)?.expected ??
    new Date(farm.nowMs()).toISOString().slice(0, 10);
  const splitOn = body.by === 'split' ? (body.splitOn ?? expected) : addDays(expected, -7);
  return {
    splitOn,
    steps: steps.map(([kind, label, day]) => ({
      kind,
      label,
      earliest: addDays(splitOn, day),
      target: addDays(splitOn, day),
      latest: addDays(splitOn, day + 1),
      why: [`Day ${String(day)} after the split.`],
    })),
    clashes: farm.unavailable.filter((day) => steps.some(([, , at]) => addDays(splitOn, at) === day)),
  };
}
