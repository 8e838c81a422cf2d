/**
 * A season of three series (26,000 readings each) by HTTP at the width of a chart, evidence included, from the built
 * server, beside an answer of the same server that reads nothing. `npm run bench:chart [-- days]`; needs a build.
 */
import { pathToFileURL } from 'node:url';
import { dropFolder, newFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { makeLiveFarm } from './live-farm.ts';
import { printRows, type BenchRow } from './store-table.ts';

/** Over the time that the status takes, which reads nothing. */
const goalMs = 10;
const times = 200;
const dayMs = 86_400_000;

/** The time that 95 of 100 requests stay under, ms. */
async function p95Ms(server: RunningServer, path: string): Promise<number> {
  const spent: number[] = [];
  for (let request = 0; request < times + 20; request += 1) {
    const began = performance.now();
    await (await fetch(server.http + path)).arrayBuffer();
    // The first ones find the engine cold.
    if (request >= 20) spent.push(performance.now() - began);
  }
  return spent.toSorted((a, b) => a - b)[Math.floor(times * 0.95)] ?? NaN;
}

export async function chartHttpBench(days: number): Promise<BenchRow[]> {
  const folder = newFolder();
  const nowMs = Date.now();
  makeLiveFarm(folder, 1, nowMs, days);
  const server = await startServer({ data: folder });
  try {
    const span = `from=${new Date(nowMs - days * dayMs).toISOString()}&to=${new Date(nowMs).toISOString()}`;
    const path = `/api/v1/nucs/nuc-0/chart?${span}&pixels=800`;
    const { series } = await server.get<{ series: { points: unknown[] }[] }>(path);
    if (series.length < 3 || series.some(({ points }) => points.length < 200))
      throw new Error('the chart has not three series');
    const chart = await p95Ms(server, path);
    const bare = await p95Ms(server, '/api/v1/status');
    return [
      {
        what: `chart of 3 series over ${String(days)} days by HTTP, p95, ms`,
        measured: chart.toFixed(1),
        baseline: `${bare.toFixed(1)} for the status alone (× ${(chart / bare).toFixed(1)})`,
        goal: `≤ ${String(goalMs)} over the status`,
        reached: chart - bare <= goalMs,
      },
    ];
  } finally {
    await server.stop();
    dropFolder(folder);
  }
}

if (import.meta.url === pathToFileURL(process.argv[1] ?? '').href) {
  const rows = await chartHttpBench(Number(process.argv[2] ?? 180));
  printRows(rows);
  process.exitCode = rows.every(({ reached }) => reached) ? 0 : 1;
}
