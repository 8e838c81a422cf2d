/** Baseline (a): an mqtt.js subscriber that stores nothing. Answers `count` with what it has received. */
import { createInterface } from 'node:readline';
import mqtt from 'mqtt';

const client = await mqtt.connectAsync(`mqtt://127.0.0.1:${process.argv[2] ?? ''}`, {
  clientId: 'sink',
  clean: false,
  protocolVersion: 5,
});
let received = 0;
client.on('message', () => {
  received += 1;
});
await client.subscribeAsync('welcomb/#', { qos: 1 });
console.log(`ready ${process.argv[2] ?? ''}`);
createInterface({ input: process.stdin }).on('line', (line) => {
  if (line === 'count') console.log(`count ${String(received)} ${String(process.memoryUsage.rss())}`);
  else if (line === 'stop') process.exit(0);
});
