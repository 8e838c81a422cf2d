/** Weight and warmth of a nuc over the same stretch of time, moved together. */
import { useState } from 'preact/hooks';
import type { QueryOf } from '../../server/contract/index.ts';
import type { ChartDto } from '../../server/contract/chart.ts';
import type { NucDetail } from '../../server/contract/nucs.ts';
import { call } from '../api/client.ts';
import { SnapshotView } from '../parts/resource-view.tsx';
import { Checkbox } from '../parts/fields.tsx';
import { serverMinute } from '../state/live.ts';
import { resourceFamily, useAnswer } from '../state/resource.ts';
import { deviceZone, zoneNote } from '../format/when.ts';
import { useWidth } from '../rail/use-width.ts';
import { ChartTable } from './chart-table.tsx';
import { EvidenceWords } from './evidence-words.tsx';
import { linesOf, rangeInWords } from './lines.ts';
import type { Group, Line } from './lines.ts';
import type { Span } from './span.ts';
import { byKey, isAll, joined, newest } from './span.ts';
import { TrendChart } from './trend-chart.tsx';
import { display } from '../state/session.ts';

/** New readings redraw an open chart no oftener than this; one with hardly anything on it sooner. */
const pauseMs = (chart: ChartDto | undefined): number =>
  (chart?.series ?? []).every(({ points }) => points.length < fewPoints) ? 2_000 : 60_000;
const fewPoints = 60;
const dayMs = 86_400_000;

interface Question {
  readonly id: string;
  readonly query: NonNullable<QueryOf<'getNucChart'>>;
}
const question = (key: string): Question => JSON.parse(key) as Question;

/** By nuc and all that is set on its charts, so that whatever fetches one again fetches just that. */
const charts = resourceFamily(
  (key) => {
    const { id, query } = question(key);
    return call('getNucChart', { params: { id }, query });
  },
  {
    changedBy: ({ type, id, hiveId }, key) =>
      (type === 'nuc' && id === question(key).id) || (type === 'reading' && hiveId === question(key).id),
    pauseMs,
  },
);

/** With room for what is expected tonight. */
function spanOf(chart: ChartDto): Span {
  const outlook = chart.outlook ? Date.parse(chart.outlook.at) + 3_600_000 : 0;
  return { fromMs: Date.parse(chart.from), toMs: Math.max(Date.parse(chart.to), outlook) };
}

interface Moved {
  /** Undefined where all is shown again, which goes on to grow. */
  readonly span: Span | undefined;
  readonly whole: Span;
}

/** The answer to a part does not tell how far all reaches, and time goes on beneath it. */
const wholeOf = (chart: ChartDto, moved: Moved | undefined, nowMs: number): Span =>
  moved
    ? joined(joined(moved.whole, spanOf(chart)), { fromMs: moved.whole.fromMs, toMs: nowMs })
    : spanOf(chart);

/** By hundreds: a scroll bar that comes and goes is no reason to ask again. */
const pixelsFor = (width: number): number =>
  Math.min(4000, Math.ceil((width * Math.min(2, devicePixelRatio)) / 100) * 100);

export function NucCharts({ one, zone }: { one: NucDetail; zone: string }) {
  const { ref, width } = useWidth<HTMLDivElement>();
  const [moved, setMoved] = useState<Moved | undefined>();
  const [suspects, setSuspects] = useState(false);
  const query: Question['query'] = {
    pixels: pixelsFor(width),
    suspect: suspects ? 'true' : 'false',
    ...(moved?.span && { from: iso(moved.span.fromMs), to: iso(moved.span.toMs) }),
  };
  const { reload, ...snapshot } = useAnswer(charts, width > 0 ? { id: one.hive.id, query } : undefined);
  return (
    <div ref={ref}>
      <SnapshotView snapshot={snapshot} reload={reload} what="the charts">
        {(chart) => {
          const whole = wholeOf(chart, moved, serverMinute.value);
          const shared = {
            chart,
            whole,
            suspects,
            span: moved?.span ?? whole,
            onSpan: (span: Span) => {
              setMoved({ span: isAll(span, whole) ? undefined : span, whole });
            },
          };
          return (
            <>
              <RangeControls {...shared} />
              <Checkbox
                label="Show suspect readings"
                hint="Spikes and sensor faults; kept, but left out of everything."
                value={suspects}
                onValue={setSuspects}
              />
              <p class="soft">
                {zoneNote(zone, deviceZone(), serverMinute.value) || 'Times are those of the site.'}
              </p>
              <OneChart group="weight" title="Weight" {...shared} />
              <OneChart group="warmth" title="Warmth in the nuc" {...shared} />
              <OneChart group="outside" title="Outside" {...shared} />
            </>
          );
        }}
      </SnapshotView>
    </div>
  );
}

const iso = (atMs: number): string => new Date(Math.round(atMs)).toISOString();

interface OneChartProps {
  readonly group: Group;
  readonly title: string;
  readonly chart: ChartDto;
  readonly span: Span;
  readonly whole: Span;
  readonly onSpan: (span: Span) => void;
  readonly suspects: boolean;
}

function summaryOf(chart: ChartDto, group: Group, lines: readonly Line[]): string {
  if (group === 'weight') return chart.summaries.weight;
  return group === 'warmth' ? chart.summaries.temperature : rangeInWords(lines, display.value);
}

function OneChart(props: OneChartProps) {
  const { group, chart, title } = props;
  const lines = linesOf(chart, group, display.value);
  if (lines.length === 0) return null;
  const summary = summaryOf(chart, group, lines);
  return (
    <figure class="chart">
      <figcaption>
        <h3>{title}</h3>
        {summary !== '' && <p>{summary}</p>}
        <p class="line-key">
          {lines.map((line) => (
            <span key={line.place} class={`key ${line.place}`}>
              {line.label}
            </span>
          ))}
        </p>
      </figcaption>
      <TrendChart {...props} />
      {group !== 'outside' && <EvidenceWords chart={chart} group={group} />}
      <ChartTable lines={lines} zone={chart.timeZone} title={title} />
    </figure>
  );
}

function RangeControls({ span, whole, onSpan }: { span: Span; whole: Span; onSpan: (span: Span) => void }) {
  const key = (name: string) => () => {
    onSpan(byKey(name, span, whole) ?? span);
  };
  return (
    <div class="reach" role="group" aria-label="Stretch of time">
      <button type="button" onClick={key('ArrowLeft')} aria-label="earlier">
        ←
      </button>
      <button type="button" onClick={key('+')} aria-label="closer">
        +
      </button>
      <button type="button" onClick={key('-')} aria-label="wider">
        −
      </button>
      <button type="button" onClick={key('ArrowRight')} aria-label="later">
        →
      </button>
      {[1, 7].map((days) => (
        <button
          key={days}
          type="button"
          onClick={() => {
            onSpan(newest(days * dayMs, whole));
          }}
        >
          {days === 1 ? 'last day' : 'last week'}
        </button>
      ))}
      <button type="button" onClick={key('0')}>
        all
      </button>
    </div>
  );
}
