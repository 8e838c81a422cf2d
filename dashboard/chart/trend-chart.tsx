/** One chart: lines with their evidence, moved by finger, mouse or keys, and what is under the cursor in words. */
import { useEffect, useMemo, useRef, useState } from 'preact/hooks';
import type { ChartDto } from '../../server/contract/chart.ts';
import { dayAndTime } from '../format/when.ts';
import { fixed, shownUnit } from '../format/units.ts';
import { serverNow } from '../state/live.ts';
import { theme } from '../state/preferences.ts';
import { display } from '../state/session.ts';
import { Chart } from './chart-js.ts';
import { evidenceOf } from './evidence.ts';
import { evidenceFor } from './evidence-of.ts';
import { chartColors } from './chart-colors.ts';
import type { Group, Line } from './lines.ts';
import { linesOf, nearest } from './lines.ts';
import { byKey } from './span.ts';
import type { Span } from './span.ts';
import { datasetsOf, optionsFor } from './trend-options.ts';
import { followPointers } from './pointers.ts';
import { valueRange } from './value-range.ts';

interface TrendChartProps {
  readonly chart: ChartDto;
  readonly group: Group;
  readonly span: Span;
  readonly whole: Span;
  readonly onSpan: (span: Span) => void;
  readonly suspects: boolean;
  readonly title: string;
}

export function TrendChart({ chart, group, span, whole, onSpan, suspects, title }: TrendChartProps) {
  const canvas = useRef<HTMLCanvasElement>(null);
  const drawn = useRef<Chart<'line'> | undefined>(undefined);
  const [atMs, setAtMs] = useState<number | undefined>();
  const units = display.value;
  const lines = useMemo(() => linesOf(chart, group, units), [chart, group, units]);
  const evidence = useMemo(() => evidenceFor(chart, group, units, serverNow.peek()), [chart, group, units]);
  const range = useMemo(() => valueRange(lines, evidence, span), [lines, evidence, span]);
  const latest = useRef({ span, whole, onSpan });
  latest.current = { span, whole, onSpan };
  const chosen = theme.value;
  const scheme = useScheme();

  useEffect(() => {
    const element = canvas.current;
    if (!element) return undefined;
    const made = new Chart<'line'>(element, { type: 'line', data: { datasets: [] }, options: {} });
    drawn.current = made;
    const stop = followPointers(element, {
      span: () => latest.current.span,
      whole: () => latest.current.whole,
      area: () => made.chartArea,
      onSpan: (next) => {
        latest.current.onSpan(next);
      },
      onPoint: setAtMs,
    });
    return () => {
      stop();
      made.destroy();
      drawn.current = undefined;
    };
  }, []);

  useEffect(() => {
    const made = drawn.current;
    if (!made || !canvas.current) return;
    const ink = chartColors(canvas.current);
    evidenceOf.set(made, { evidence, ink });
    made.data.datasets = datasetsOf(lines, ink, suspects);
    made.options = optionsFor({ span, zone: chart.timeZone, unit: unitOf(lines), range }, ink);
    made.update('none');
  }, [chart.timeZone, lines, evidence, range, span, suspects, chosen, scheme]);

  return (
    <div class="trend">
      <div
        class={`trend-canvas ${group}`}
        role="application"
        aria-label={`${title}. Arrow keys move, plus and minus zoom, 0 shows all.`}
        tabIndex={0}
        onKeyDown={(event) => {
          const next = byKey(event.key, span, whole);
          if (!next) return;
          event.preventDefault();
          onSpan(next);
          setAtMs((next.fromMs + next.toMs) / 2);
        }}
      >
        <canvas ref={canvas} aria-hidden="true" />
      </div>
      <p class="readout" aria-live="polite">
        {atMs === undefined
          ? `Touch or point at the chart to read it.${range?.cut === true ? ' Extreme values are cut off.' : ''}`
          : readoutWords(lines, atMs, span, chart.timeZone)}
      </p>
    </div>
  );
}

const unitOf = (lines: readonly Line[]): string => shownUnit(lines[0]?.unit ?? '', display.value);

function readoutWords(lines: readonly Line[], atMs: number, span: Span, zone: string): string {
  const reach = (span.toMs - span.fromMs) / 40;
  const values = lines.map((line) => {
    const point = nearest(line.points, atMs, reach);
    const unit = shownUnit(line.unit, display.value);
    return `${line.label} ${point?.y === undefined || point.y === null ? 'not measured' : `${fixed(point.y, unit === 'kg' || unit === 'lb' ? 2 : 1)} ${unit}`}`;
  });
  return `${dayAndTime(atMs, zone, serverNow.peek())}: ${values.join(', ')}`;
}

/** Changes when the device goes from light to dark. */
function useScheme(): boolean {
  const query = useRef(matchMedia('(prefers-color-scheme: dark)'));
  const [dark, setDark] = useState(query.current.matches);
  useEffect(() => {
    const media = query.current;
    const follow = (): void => {
      setDark(media.matches);
    };
    media.addEventListener('change', follow);
    return () => {
      media.removeEventListener('change', follow);
    };
  }, []);
  return dark;
}
