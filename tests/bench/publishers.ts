/**
 * Publishers over two processes: one of ten mqtt.js clients fills a core before any of the compared systems does, and
 * would be the thing measured.
 */
import { fileURLToPath } from 'node:url';
import { startChild } from '../soak/child.ts';

const load = fileURLToPath(new URL('./ingest-load.ts', import.meta.url));
const processes = 2;

export interface Load {
  readonly kind: 'mqttjs' | 'raw';
  readonly port: number;
  readonly publishers: number;
  readonly readings: number;
  /** Added to the first observed instant, ms. */
  readonly laterMs?: number;
  /** Topics are of sensors named so, and numbered from 0. */
  readonly sensor: string;
}

export interface Publishers {
  readonly pids: readonly number[];
  /** All are connected. */
  ready(): Promise<unknown>;
  /** Lets all publish at once; resolves when every reading is acknowledged. */
  go(): Promise<unknown>;
}

export function startPublishers({ kind, port, publishers, readings, laterMs = 0, sensor }: Load): Publishers {
  const shares = publishers < processes ? 1 : processes;
  const each = publishers / shares;
  const children = Array.from({ length: shares }, (_, at) =>
    startChild(load, [kind, port, each, readings / shares, laterMs, 1000, sensor, at * each].map(String)),
  );
  return {
    pids: children.map((child) => child.process.pid ?? 0),
    ready: () => Promise.all(children.map((child) => child.answer('ready'))),
    go() {
      const done = children.map((child) => child.answer('seconds'));
      for (const child of children) child.ask('go');
      return Promise.all(done);
    },
  };
}
