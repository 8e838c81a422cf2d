/** A chart's answer for an invented nuc: as many points as the width needs, one gap, one suspect. */
import type { ChartDto } from '../../../server/contract/chart.ts';
import type { NamedCase } from './cases.ts';
import { broodC, dayMs, hourMs, outsideC, weightKg } from './weather.ts';

const iso = (atMs: number): string => new Date(Math.round(atMs)).toISOString();

interface Asked {
  readonly from?: string | undefined;
  readonly to?: string | undefined;
  readonly pixels: number;
  readonly suspect: boolean;
}

export function chartOf(one: NamedCase, asked: Asked, nowMs: number): ChartDto {
  const day0 = nowMs - one.day * dayMs;
  const from = asked.from === undefined ? day0 : Date.parse(asked.from);
  const to = asked.to === undefined ? nowMs : Date.parse(asked.to);
  const step = Math.max(60_000, (to - from) / asked.pixels);
  const points = (value: (atMs: number) => number): number[][] => {
    const all: (number | null)[][] = [];
    for (let at = Math.max(from, day0); at <= Math.min(to, nowMs); at += step) {
      const day = (at - day0) / dayMs;
      if (day > 3.4 && day < 3.9) {
        if (all.at(-1)?.[1] !== null) all.push([Math.round(at), null]);
        continue;
      }
      all.push([Math.round(at), Number(value(at).toFixed(3))]);
    }
    return all as number[][];
  };
  const dayOf = (at: number): number => (at - day0) / dayMs;
  const nights = Array.from({ length: Math.floor(one.day) }, (_, i) => {
    const end = day0 + (i + 1.2) * dayMs;
    return {
      from: iso(end - 7 * hourMs),
      to: iso(end),
      levelKg: weightKg(one.course, i + 1.2),
      slopeGPerH: -3,
      text: 'losing 3 g an hour, 41 readings',
    };
  });
  return {
    from: iso(from),
    to: iso(to),
    timeZone: one.timeZone,
    series: [
      {
        place: 'scale',
        unit: 'kg',
        label: 'weight',
        points: points((at) => weightKg(one.course, dayOf(at))),
        suspects: asked.suspect ? [[Math.round(day0 + 1.5 * dayMs), 14.9]] : [],
      },
      {
        place: 'brood',
        unit: 'Cel',
        label: 'brood',
        points: points((at) => broodC(one.course, dayOf(at))),
        suspects: [],
      },
      {
        place: 'cage',
        unit: 'Cel',
        label: 'cage',
        points: points((at) => broodC(one.course, dayOf(at) + 0.01) - 1.4),
        suspects: [],
      },
      { place: 'outside', unit: 'Cel', label: 'outside', points: points(outsideC), suspects: [] },
    ],
    nights,
    steps:
      one.day > one.cutDay
        ? [
            {
              at: iso(day0 + one.cutDay * dayMs),
              sizeKg: -0.08,
              kind: 'opened',
              text: '−80 g: opened, goes with a logged visit',
            },
          ]
        : [],
    departures: Array.from({ length: Math.floor(one.day) }, (_, i) => ({
      departure: iso(day0 + (i + 0.38) * dayMs),
      lowest: iso(day0 + (i + 0.6) * dayMs),
      return: iso(day0 + (i + 0.79) * dayMs),
      depthG: 110,
    })),
    driftCurve: Array.from({ length: 14 }, (_, i) => {
      const day = (i / 14) * Math.min(5, one.day);
      const kg = one.course.driftKg * (1 - Math.exp(-day / (one.course.driftDays / 2.3)));
      return { at: iso(day0 + day * dayMs), kg, lowKg: kg * 0.87, highKg: kg * 1.13 };
    }),
    band: [
      {
        from: iso(day0),
        to: iso(day0 + 9 * dayMs),
        lowC: 33,
        highC: 36,
        text: 'expected with open brood: 33 to 36 °C',
      },
      {
        from: iso(day0 + 9 * dayMs),
        to: iso(nowMs),
        lowC: 32.5,
        highC: 36,
        text: 'expected with sealed brood',
      },
    ],
    outlook: {
      at: iso(nowMs + 6 * hourMs),
      minC: 32.1,
      lowC: 30.8,
      highC: 33.2,
      text: 'lowest tonight about 32.1 °C (30.8 to 33.2)',
    },
    visits: one.day > one.cutDay ? [{ at: iso(day0 + one.cutDay * dayMs), text: 'Cells cut' }] : [],
    alerts:
      one.chilling === true
        ? [{ from: iso(nowMs - 3 * hourMs), to: null, urgency: 'now', text: 'brood getting cold' }]
        : [],
    notes: [],
    summaries: {
      weight:
        'The nuc lost 0.52 kg in its first three days, most of it foragers, and about 30 g a day since.',
      temperature: 'The brood was kept between 34 and 35 °C, but for the last three hours.',
    },
  };
}
