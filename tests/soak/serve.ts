/**
 * The server of the soak and of the bench, as a child process: the real store behind the real ingest, and nothing
 * else, with the engine as the server has it. Says `ready <port>` when it listens or has connected; answers `count` on
 * standard input with what is stored.
 */
import '../../server/process/heap-flags.ts';
import { createInterface } from 'node:readline';
import { startIngest, type IngestOptions } from '../../ingest/ingest.ts';
import { heapGrowth } from '../../server/process/heap-growth.ts';
import { openStore } from '../../server/store/store.ts';

const [file = '', kind = 'embedded', url = '', lifted = ''] = process.argv.slice(2);
const store = openStore({ file });
const say = (line: string): void => {
  process.stdout.write(`${line}\n`);
};
const note = (details: object, sentence: string): void => {
  process.stderr.write(`${sentence} ${JSON.stringify(details)}\n`);
};

const broker: IngestOptions['broker'] =
  kind === 'outside'
    ? { kind: 'outside', url, clientId: 'welcomb-soak' }
    : {
        kind: 'embedded',
        host: '127.0.0.1',
        port: Number(url),
        devices: { devices: [], isPassword: () => Promise.resolve(false) },
        allowAnonymous: true,
      };
const growth = heapGrowth();
const ingest = await startIngest({
  port: store.ingest,
  broker,
  clock: Date.now,
  onCommitted: ({ stored }) => {
    growth.committed(stored.length);
  },
  logger: { info: note, warn: note, error: note },
  limits: {
    reconnectMs: 20,
    maxReconnectMs: 200,
    // The bench asks how much goes through, not whether one device is held back.
    ...(lifted === 'unlimited' ? { messagesPerSecond: 1e9, burst: 1e9 } : {}),
  },
});
while (!ingest.status().connected) await new Promise((resolve) => setTimeout(resolve, 5));
say(`ready ${String(ingest.address.port)}`);

createInterface({ input: process.stdin }).on('line', (line) => {
  const { counters } = ingest.status();
  if (line === 'count') say(`count ${String(counters.stored)} ${String(process.memoryUsage.rss())}`);
  else if (line === 'stop') void stop();
});
async function stop(): Promise<void> {
  await ingest.stop();
  store.close();
  process.exit(0);
}
process.on('SIGTERM', () => void stop());
