/** Each kind of evidence and how it is drawn. */
import type { Chart } from 'chart.js';

/** Values in the reader's units already. */
export interface Evidence {
  readonly bands: readonly {
    readonly from: number;
    readonly to: number;
    readonly low: number;
    readonly high: number;
  }[];
  readonly nights: readonly {
    readonly from: number;
    readonly to: number;
    readonly level: number;
    readonly slopePerMs: number;
  }[];
  readonly drift: readonly {
    readonly at: number;
    readonly mid: number;
    readonly low: number;
    readonly high: number;
  }[];
  readonly outlook:
    | { readonly at: number; readonly mid: number; readonly low: number; readonly high: number }
    | undefined;
  readonly spans: readonly { readonly from: number; readonly to: number; readonly urgency: string }[];
  readonly marks: readonly Mark[];
}
export interface Mark {
  readonly at: number;
  readonly kind: 'visit' | 'step' | 'departure' | 'return' | 'note';
}
export interface ChartColors {
  readonly ink: string;
  readonly soft: string;
  readonly brood: string;
  readonly queen: string;
  readonly now: string;
  readonly today: string;
  readonly paper: string;
  readonly font: string;
}

const xOf = (chart: Chart, atMs: number): number => chart.scales['x']?.getPixelForValue(atMs) ?? 0;
const yOf = (chart: Chart, value: number): number => chart.scales['y']?.getPixelForValue(value) ?? 0;

export function drawBands(chart: Chart, { bands }: Evidence, ink: ChartColors): void {
  const { ctx } = chart;
  ctx.fillStyle = ink.brood;
  for (const band of bands) {
    const left = xOf(chart, band.from);
    const top = yOf(chart, band.high);
    ctx.fillRect(left, top, xOf(chart, band.to) - left, yOf(chart, band.low) - top);
  }
}

export function drawDrift(chart: Chart, { drift }: Evidence, ink: ChartColors): void {
  if (drift.length < 2) return;
  const { ctx } = chart;
  ctx.fillStyle = ink.brood;
  ctx.beginPath();
  for (const point of drift) ctx.lineTo(xOf(chart, point.at), yOf(chart, point.high));
  for (const point of [...drift].reverse()) ctx.lineTo(xOf(chart, point.at), yOf(chart, point.low));
  ctx.closePath();
  ctx.fill();
  ctx.strokeStyle = ink.queen;
  ctx.lineWidth = 2;
  ctx.setLineDash([7, 4]);
  ctx.beginPath();
  for (const point of drift) ctx.lineTo(xOf(chart, point.at), yOf(chart, point.mid));
  ctx.stroke();
  ctx.setLineDash([]);
}

export function drawNights(chart: Chart, { nights }: Evidence, ink: ChartColors): void {
  const { ctx } = chart;
  ctx.strokeStyle = ink.ink;
  ctx.lineWidth = 3.5;
  for (const night of nights) {
    ctx.beginPath();
    ctx.moveTo(xOf(chart, night.from), yOf(chart, night.level - night.slopePerMs * (night.to - night.from)));
    ctx.lineTo(xOf(chart, night.to), yOf(chart, night.level));
    ctx.stroke();
  }
}

export function drawOutlook(chart: Chart, { outlook }: Evidence, ink: ChartColors): void {
  if (!outlook) return;
  const { ctx } = chart;
  const x = xOf(chart, outlook.at);
  ctx.strokeStyle = ink.today;
  ctx.fillStyle = ink.today;
  ctx.lineWidth = 2;
  ctx.beginPath();
  ctx.moveTo(x, yOf(chart, outlook.low));
  ctx.lineTo(x, yOf(chart, outlook.high));
  for (const end of [outlook.low, outlook.high]) {
    ctx.moveTo(x - 5, yOf(chart, end));
    ctx.lineTo(x + 5, yOf(chart, end));
  }
  ctx.stroke();
  ctx.beginPath();
  ctx.arc(x, yOf(chart, outlook.mid), 4, 0, 2 * Math.PI);
  ctx.fill();
}

/** Alerts lie along the upper edge for as long as they lasted. */
export function drawSpans(chart: Chart, { spans }: Evidence, ink: ChartColors): void {
  const { ctx, chartArea } = chart;
  for (const span of spans) {
    ctx.fillStyle = span.urgency === 'now' ? ink.now : ink.today;
    const left = xOf(chart, span.from);
    ctx.fillRect(left, chartArea.top, Math.max(3, xOf(chart, span.to) - left), 4);
  }
}

const signs: Readonly<Record<Mark['kind'], string>> = {
  visit: '●',
  step: '↕',
  departure: '▾',
  return: '▴',
  note: '✎',
};

/** A fine line through the chart and a sign on it; departures and returns only a sign, there is one each day. */
export function drawMarks(chart: Chart, { marks }: Evidence, ink: ChartColors): void {
  const { ctx, chartArea } = chart;
  ctx.font = `12px ${ink.font}`;
  ctx.textAlign = 'center';
  for (const mark of marks) {
    const x = xOf(chart, mark.at);
    if (x < chartArea.left - 2 || x > chartArea.right + 2) continue;
    const small = mark.kind === 'departure' || mark.kind === 'return';
    if (!small) {
      ctx.strokeStyle = ink.soft;
      ctx.lineWidth = 1;
      ctx.setLineDash([2, 3]);
      ctx.beginPath();
      ctx.moveTo(x, chartArea.top + 16);
      ctx.lineTo(x, chartArea.bottom);
      ctx.stroke();
      ctx.setLineDash([]);
    }
    ctx.fillStyle = small ? ink.soft : ink.ink;
    ctx.fillText(signs[mark.kind], x, small ? chartArea.bottom - 4 : chartArea.top + 14);
  }
}
