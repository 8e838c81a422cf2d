/**
 * A season of three series (26,000 readings each) by HTTP at the width of a chart, evidence included, from the built
 * server, beside an answer of the same server that reads nothing. `npm run bench:chart [-- days]`; needs a build.
 */
import { pathToFileURL } from 'node:url';
import { dropFolder, newFolder, startServer, type RunningServer } from '../support/server-process.ts';
import { makeLiveFarm } from './live-farm.ts';
import { processorUs } from './processor-time.ts';
import { printRows, type BenchRow } from './store-table.ts';

/** Over the time that the status takes, which reads nothing. */
const goalMs = 10;
const times = 200;
const dayMs = 86_400_000;

interface Spent {
  /** The time that 95 of 100 requests stay under. */
  readonly p95Ms: number;
  /** Of the server for one request. */
  readonly processorMs: number;
}

async function spentOn(server: RunningServer, path: string): Promise<Spent> {
  const ask = async (): Promise<number> => {
    const began = performance.now();
    await (await fetch(server.http + path)).arrayBuffer();
    return performance.now() - began;
  };
  // The first ones find the engine cold.
  for (let request = 0; request < 20; request += 1) await ask();
  const pids = [server.process.pid ?? 0];
  const beforeUs = processorUs(pids);
  const spent: number[] = [];
  for (let request = 0; request < times; request += 1) spent.push(await ask());
  return {
    p95Ms: spent.toSorted((a, b) => a - b)[Math.floor(times * 0.95)] ?? NaN,
    processorMs: (processorUs(pids) - beforeUs) / 1000 / times,
  };
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
    const chart = await spentOn(server, path);
    const bare = await spentOn(server, '/api/v1/status');
    return [
      {
        what: `chart of 3 series over ${String(days)} days by HTTP, p95, ms`,
        measured: chart.p95Ms.toFixed(1),
        baseline: `${bare.p95Ms.toFixed(1)} for the status alone (× ${(chart.p95Ms / bare.p95Ms).toFixed(1)})`,
        goal: `≤ ${String(goalMs)} over the status`,
        reached: chart.p95Ms - bare.p95Ms <= goalMs,
      },
      {
        what: 'processor time of the server for one of them, ms',
        measured: chart.processorMs.toFixed(1),
        baseline: `${bare.processorMs.toFixed(1)} for the status alone`,
        goal: '',
        reached: true,
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
