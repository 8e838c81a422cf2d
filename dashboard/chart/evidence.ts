/** Draws into a chart what the answers rest on, between the grid and the lines. */
import type { Chart, Plugin } from 'chart.js';
import type { Evidence, ChartColors } from './evidence-parts.ts';
import { drawBands, drawDrift, drawMarks, drawNights, drawOutlook, drawSpans } from './evidence-parts.ts';

/** Charts carry their evidence here; options of plugins would be wrapped and made reactive by Chart.js. */
export const evidenceOf = new WeakMap<Chart, { evidence: Evidence; ink: ChartColors }>();

export const evidencePlugin: Plugin<'line'> = {
  id: 'evidence',
  beforeDatasetsDraw(chart) {
    const given = evidenceOf.get(chart);
    if (!given) return;
    const { ctx, chartArea } = chart;
    ctx.save();
    ctx.beginPath();
    ctx.rect(chartArea.left, chartArea.top, chartArea.width, chartArea.height);
    ctx.clip();
    drawBands(chart, given.evidence, given.ink);
    drawDrift(chart, given.evidence, given.ink);
    ctx.restore();
  },
  afterDatasetsDraw(chart) {
    const given = evidenceOf.get(chart);
    if (!given) return;
    const { ctx, chartArea } = chart;
    ctx.save();
    ctx.beginPath();
    ctx.rect(chartArea.left, 0, chartArea.width, chart.height);
    ctx.clip();
    drawNights(chart, given.evidence, given.ink);
    drawOutlook(chart, given.evidence, given.ink);
    drawSpans(chart, given.evidence, given.ink);
    drawMarks(chart, given.evidence, given.ink);
    ctx.restore();
  },
};
