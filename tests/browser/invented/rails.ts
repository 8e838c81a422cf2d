/** The rail of an invented nuc, from its day and what has been done. */
import type * as z from 'zod';
import type { railSchema } from '../../../server/contract/nucs.ts';
import { broodC, dayMs, weightKg } from './weather.ts';
import type { Course } from './weather.ts';

type Rail = z.infer<typeof railSchema>;

export interface Case {
  /** Days since the split, now. */
  readonly day: number;
  readonly course: Course;
  readonly cagedFrom: number;
  /** Day of the first cut and of the opening, done or planned. */
  readonly cutDay: number;
  readonly openDay: number;
  readonly overdue?: boolean;
  readonly chilling?: boolean;
  readonly timeZone: string;
}

const steps = (one: Case) =>
  [
    { kind: 'split', label: 'Make the split', day: 0.45 },
    { kind: 'cut-cells', label: 'Cut the cells', day: one.cutDay },
    { kind: 'hang-cage', label: 'Hang the cage', day: one.cagedFrom },
    { kind: 'second-look', label: 'Second look for cells', day: one.openDay - 0.02 },
    { kind: 'open-candy', label: 'Open the candy end', day: one.openDay },
    { kind: 'look-for-queen', label: 'Look for the queen', day: one.openDay + 7 },
    { kind: 'check-sealed-brood', label: 'Check the sealed brood', day: one.openDay + 16 },
  ] as const;

/** A step within half a day is due; an earlier one is done, unless it was missed. */
export function stepsOf(one: Case) {
  return steps(one).map((step) => {
    const missed = one.overdue === true && step.kind === 'look-for-queen' && step.day < one.day;
    const state = missed
      ? ('overdue' as const)
      : step.day < one.day - 0.3
        ? ('done' as const)
        : step.day < one.day + 0.6
          ? ('due' as const)
          : ('planned' as const);
    return { ...step, state };
  });
}

function bars(one: Case): Rail['bars'] {
  const { day, cagedFrom, openDay } = one;
  const hung = cagedFrom < day;
  const opened = openDay < day - 0.3;
  const caged: Rail['bars'] = hung
    ? [
        {
          kind: 'caged',
          fromDay: cagedFrom,
          toDay: Math.min(day, openDay),
          planned: false,
          text: 'queen in her cage',
        },
      ]
    : [];
  if (!opened) {
    caged.push({
      kind: 'caged',
      fromDay: Math.max(cagedFrom, hung ? day : cagedFrom),
      toDay: openDay,
      planned: true,
      text: 'queen in her cage, as planned',
    });
  }
  const laying: Rail['bars'] =
    day > openDay + 8
      ? [{ kind: 'laying', fromDay: openDay + 7, toDay: day, planned: false, text: 'her eggs seen' }]
      : [];
  return [
    ...caged,
    { kind: 'hands-off', fromDay: openDay, toDay: openDay + 7, planned: !opened, text: 'hands off' },
    ...laying,
  ];
}

export function railOf(one: Case, day0Ms: number): Rail {
  const { day, course } = one;
  const nights: Rail['nights'] = [];
  for (let d = 0; d <= Math.floor(day); d += 1) {
    if (d === 4) continue;
    nights.push({ day: d + 0.2, kg: Number(weightKg(course, d + 0.2).toFixed(3)) });
  }
  const brood: Rail['brood'] = [];
  for (let d = 0.5; d < day; d += 1 / 24) {
    if (d > 3.4 && d < 3.9) continue;
    const mean = broodC(course, d);
    brood.push({ day: Number(d.toFixed(3)), low: mean - 0.3, mean, high: mean + 0.3 });
  }
  return {
    day0: new Date(day0Ms).toISOString(),
    timeZone: one.timeZone,
    today: day,
    lastDay: 28,
    windows: [
      {
        kind: 'rearable-larvae',
        fromDay: 0.45,
        toDay: 7.4,
        text: 'larvae a queen could still be raised from',
      },
      { kind: 'virgin-possible', fromDay: 8.5, toDay: 16, text: 'a missed cell could hatch' },
      { kind: 'open-brood', fromDay: 0.45, toDay: 9, text: 'open brood of the old queen' },
      { kind: 'sealed-brood', fromDay: 9, toDay: 21, text: 'sealed brood of the old queen still to emerge' },
      { kind: 'laying-workers', fromDay: 23, toDay: 28, text: 'workers may begin to lay' },
    ],
    bars: bars(one),
    visits: stepsOf(one).map((step, i) => ({
      day: step.day,
      at: new Date(day0Ms + step.day * dayMs).toISOString(),
      kind: step.kind,
      label: step.label,
      state: step.state,
      id: `${step.kind}-${String(i)}`,
    })),
    nights,
    brood,
    band: [
      { fromDay: 0, toDay: 9, lowC: 33, highC: 36 },
      { fromDay: 9, toDay: 21, lowC: 32.5, highC: 36 },
    ],
    alerts:
      one.chilling === true
        ? [{ day: day - 0.15, toDay: day, urgency: 'now', id: 'chill', text: 'brood getting cold' }]
        : [],
    inWords: `Day ${String(Math.floor(day))} since the split. Cells ${one.cutDay < day ? 'were' : 'are to be'} cut on day ${String(Math.floor(one.cutDay))}; the candy end ${one.openDay < day - 0.3 ? 'was opened' : 'is to be opened'} on day ${String(Math.floor(one.openDay))}, hands off for seven days from then. Nothing left to start a cell from since day 7.`,
  };
}
