/** Weight and warmth of a nuc over the same stretch of time, moved together. */
import { useEffect, useRef, useState } from 'preact/hooks';
import type { ChartDto, NucDetail } from '../../server/contract/nucs.ts';
import { call } from '../api/client.ts';
import { wordsOf } from '../api/trouble.ts';
import { Failed, Waiting } from '../parts/shown.tsx';
import { Tick } from '../parts/fields.tsx';
import { onLive, serverMinute } from '../state/live.ts';
import { deviceZone, zoneNote } from '../format/when.ts';
import { useWidth } from '../rail/use-width.ts';
import { ChartTable } from './chart-table.tsx';
import { EvidenceWords } from './evidence-words.tsx';
import { linesOf, rangeInWords } from './lines.ts';
import type { Group, Line } from './lines.ts';
import type { Span } from './span.ts';
import { byKey, newest } from './span.ts';
import { TrendChart } from './trend-chart.tsx';
import { display } from '../state/session.ts';

const afterMovingMs = 250;
/** New readings redraw an open chart no oftener than this; one with hardly anything on it sooner. */
const refreshMs = (chart: ChartDto | undefined): number =>
  (chart?.series ?? []).every(({ points }) => points.length < fewPoints) ? 2_000 : 60_000;
const fewPoints = 60;
const dayMs = 86_400_000;

/** With room for what is expected tonight. */
function spanOf(chart: ChartDto): Span {
  const outlook = chart.outlook ? Date.parse(chart.outlook.at) + 3_600_000 : 0;
  return { fromMs: Date.parse(chart.from), toMs: Math.max(Date.parse(chart.to), outlook) };
}

export function NucCharts({ one, zone }: { one: NucDetail; zone: string }) {
  const { ref, width } = useWidth<HTMLDivElement>();
  const [chart, setChart] = useState<ChartDto | undefined>();
  const [whole, setWhole] = useState<Span | undefined>();
  const [span, setSpan] = useState<Span | undefined>();
  const [suspects, setSuspects] = useState(false);
  const [trouble, setTrouble] = useState('');
  const asked = useRef(0);
  const shown = useRef<ChartDto | undefined>(undefined);
  shown.current = chart;
  const id = one.hive.id;

  const fetchSpan = async (wanted: Span | undefined): Promise<void> => {
    asked.current += 1;
    const mine = asked.current;
    try {
      const answer = await call('getNucChart', {
        params: { id },
        query: {
          pixels: Math.min(4000, Math.max(100, Math.round(width * Math.min(2, devicePixelRatio)))),
          suspect: suspects ? 'true' : 'false',
          ...(wanted ? { from: iso(wanted.fromMs), to: iso(wanted.toMs) } : {}),
        },
      });
      if (mine !== asked.current) return;
      setTrouble('');
      setChart(answer);
      if (!wanted) setWhole(spanOf(answer));
    } catch (error) {
      setTrouble(wordsOf(error));
    }
  };
  useEffect(() => {
    if (width === 0) return undefined;
    const timer = setTimeout(() => void fetchSpan(span), chart ? afterMovingMs : 0);
    return () => {
      clearTimeout(timer);
    };
  }, [span, width > 0, suspects, id]);
  useEffect(() => {
    let last = Date.now();
    let timer: ReturnType<typeof setTimeout> | undefined;
    const stop = onLive((event) => {
      const mine =
        (event.type === 'reading' && event.hiveId === id) || (event.type === 'nuc' && event.id === id);
      if (!mine) return;
      timer ??= setTimeout(
        () => {
          timer = undefined;
          last = Date.now();
          void fetchSpan(span);
        },
        Math.max(0, last + refreshMs(shown.current) - Date.now()),
      );
    });
    return () => {
      stop();
      clearTimeout(timer);
    };
  }, [span, id, width > 0]);

  return (
    <section class="card" aria-label="Charts" ref={ref}>
      <h2>Charts</h2>
      {!chart &&
        (trouble === '' ? (
          <Waiting what="the charts" />
        ) : (
          <Failed words={trouble} again={() => void fetchSpan(span)} />
        ))}
      {chart && trouble !== '' && <p class="notice">{trouble}</p>}
      {chart && whole && (
        <>
          <Reach span={span ?? whole} whole={whole} onSpan={setSpan} />
          <Tick
            label="Show suspect readings"
            hint="Spikes and sensor faults; kept, but left out of everything."
            value={suspects}
            onValue={setSuspects}
          />
          <p class="soft">
            {zoneNote(zone, deviceZone(), serverMinute.value) || 'Times are those of the site.'}
          </p>
          <OneChart
            group="weight"
            title="Weight"
            chart={chart}
            span={span ?? whole}
            whole={whole}
            onSpan={setSpan}
            suspects={suspects}
          />
          <OneChart
            group="warmth"
            title="Warmth in the nuc"
            chart={chart}
            span={span ?? whole}
            whole={whole}
            onSpan={setSpan}
            suspects={suspects}
          />
          <OneChart
            group="outside"
            title="Outside"
            chart={chart}
            span={span ?? whole}
            whole={whole}
            onSpan={setSpan}
            suspects={suspects}
          />
        </>
      )}
    </section>
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

function Reach({ span, whole, onSpan }: { span: Span; whole: Span; onSpan: (span: Span) => void }) {
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
