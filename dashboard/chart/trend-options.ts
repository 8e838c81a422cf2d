/** How the lines look and what the axes say. */
import type { ChartDataset, ChartOptions, Point } from 'chart.js';
import type { Span } from './span.ts';
import type { Line } from './lines.ts';
import { lonePoints } from './lines.ts';
import type { chartColors } from './chart-colors.ts';
import { timeTicks } from './ticks.ts';
import type { ValueRange } from './value-range.ts';

/** Room for `Thu 14 May`. */
const pxPerTick = 92;

type Inks = ReturnType<typeof chartColors>;

/** Told apart by stroke as well as by tone. */
const strokes: Readonly<
  Record<
    string,
    { readonly tone: 'ink' | 'warm' | 'queen' | 'cold'; readonly dash: number[]; readonly width: number }
  >
> = {
  scale: { tone: 'ink', dash: [], width: 1.4 },
  brood: { tone: 'warm', dash: [], width: 1.8 },
  cage: { tone: 'queen', dash: [6, 3], width: 1.5 },
  outside: { tone: 'cold', dash: [2, 2], width: 1.2 },
};

export function datasetsOf(lines: readonly Line[], ink: Inks, suspects: boolean): ChartDataset<'line'>[] {
  return lines.flatMap((line) => {
    const { tone, dash, width } = strokes[line.place] ?? { tone: 'ink' as const, dash: [], width: 1.4 };
    const common = {
      pointRadius: 0,
      spanGaps: false,
      borderWidth: width,
      parsing: false as const,
      normalized: true,
    };
    const sets: ChartDataset<'line'>[] = [];
    if (line.high.length > 0) {
      const faint = { ...common, borderWidth: 0.5, borderColor: ink.grid };
      sets.push({ ...faint, data: line.low as Point[] }, { ...faint, data: line.high as Point[] });
    }
    sets.push({ ...common, data: line.points as Point[], borderColor: ink[tone], borderDash: dash });
    const dot = { ...common, showLine: false, pointRadius: 2.5, backgroundColor: ink[tone] };
    sets.push({ ...dot, data: lonePoints(line.points) as Point[], borderColor: ink[tone] });
    if (suspects) {
      sets.push({
        data: line.suspects as Point[],
        parsing: false,
        showLine: false,
        pointStyle: 'crossRot',
        pointRadius: 5,
        borderColor: ink.now,
      });
    }
    return sets;
  });
}

interface Axes {
  readonly span: Span;
  readonly zone: string;
  readonly unit: string;
  readonly range: ValueRange | undefined;
}

export function optionsFor({ span, zone, unit, range }: Axes, ink: Inks): ChartOptions<'line'> {
  const words = new Map<number, string>();
  const ticks = { color: ink.soft, font: { family: ink.font, size: 12 } };
  return {
    animation: false,
    responsive: true,
    maintainAspectRatio: false,
    events: [],
    layout: { padding: { right: 6 } },
    scales: {
      x: {
        type: 'linear',
        min: span.fromMs,
        max: span.toMs,
        grid: { color: ink.grid },
        ticks: { ...ticks, maxRotation: 0, autoSkip: false, callback: (value) => words.get(Number(value)) },
        afterBuildTicks(scale) {
          const wanted = timeTicks(span.fromMs, span.toMs, zone, scale.width / pxPerTick);
          words.clear();
          for (const tick of wanted) words.set(tick.value, tick.label);
          scale.ticks = wanted.map(({ value }) => ({ value }));
        },
      },
      y: {
        grid: { color: ink.grid },
        title: { display: true, text: unit, color: ink.soft, font: { family: ink.font, size: 12 } },
        ticks: { ...ticks, maxTicksLimit: 7, includeBounds: false },
        ...(range ? { min: range.low, max: range.high } : {}),
      },
    },
  };
}
