/** `npm run simulate`: one scenario, published over MQTT. */
import { parseArgs } from 'node:util';
import { isEntry, stopOnSignal } from './command.ts';
import { messagesByArrival, wireNames } from './sending/messages.ts';
import { simulateNuc } from './nuc.ts';
import { openPublisher, type Pace } from './sending/publish.ts';
import { scenarioNames, type ScenarioName } from './scenarios.ts';

const help = `Publishes a simulated nuc over MQTT (QoS 1), with the simulated clock as observed time.

  npm run simulate -- --scenario NAME --seed NUMBER

  --scenario NAME       ${scenarioNames.join(', ')}
  --seed NUMBER         the same seed gives the same readings (1 if left out)
  --days NUMBER         days from the split on (20)
  --split INSTANT       when the split was made; a late-spring day if left out
  --every MINUTES       interval of weight and temperature
  --sensor NAME         the nuc's device (sim-SEED); the site's is NAME-sky
  --format json|senml   payload
  --pace max | FACTOR   as fast as the broker acknowledges (default), or FACTOR times real time
  --broker URL          mqtt://127.0.0.1:1883 if left out
`;

const isScenario = (name: string): name is ScenarioName =>
  (scenarioNames as readonly string[]).includes(name);

async function main(args: readonly string[]): Promise<void> {
  const { values } = parseArgs({
    args: [...args],
    options: {
      scenario: { type: 'string', default: 'clean' },
      seed: { type: 'string', default: '1' },
      days: { type: 'string', default: '20' },
      split: { type: 'string' },
      every: { type: 'string' },
      sensor: { type: 'string' },
      format: { type: 'string', default: 'json' },
      pace: { type: 'string', default: 'max' },
      broker: { type: 'string', default: 'mqtt://127.0.0.1:1883' },
      help: { type: 'boolean', default: false },
    },
  });
  if (values.help) {
    process.stdout.write(help);
    return;
  }
  const { scenario, format } = values;
  if (!isScenario(scenario))
    throw new Error(`--scenario "${scenario}" is none of ${scenarioNames.join(', ')}`);
  if (format !== 'json' && format !== 'senml')
    throw new Error(`--format "${format}" is neither json nor senml`);
  const seed = positive('seed', values.seed);
  const splitMs = values.split === undefined ? undefined : Date.parse(values.split);
  if (Number.isNaN(splitMs))
    throw new Error(`--split "${String(values.split)}" is not an instant such as 2026-05-01T10:00Z`);
  const nuc = simulateNuc({
    seed,
    scenario,
    days: positive('days', values.days),
    ...(splitMs === undefined ? {} : { splitMs }),
    ...(values.every === undefined ? {} : { everyMinutes: Math.round(positive('every', values.every)) }),
  });
  const sensor = values.sensor ?? `sim-${values.seed}`;
  const messages = messagesByArrival(nuc, wireNames(sensor, `${sensor}-sky`));
  const pace: Pace =
    values.pace === 'max'
      ? { kind: 'as-fast-as-taken' }
      : { kind: 'by-the-clock', factor: positive('pace', values.pace), startMs: nuc.splitMs };
  const publisher = await openPublisher({ url: values.broker });
  const sent = await publisher.publish(messages, { pace, format, signal: stopOnSignal() });
  await publisher.close();
  console.log(`${String(sent)} messages acknowledged; what truly happened:`);
  for (const { atMs, kind, note } of nuc.truth.events) {
    console.log(`  ${new Date(atMs).toISOString()} ${kind}${note ? ` (${note})` : ''}`);
  }
}

function positive(name: string, text: string): number {
  const value = Number(text);
  if (!(value > 0)) throw new Error(`--${name} "${text}" is not a number above 0`);
  return value;
}

if (isEntry(import.meta.url)) {
  main(process.argv.slice(2)).catch((error: unknown) => {
    console.error(error instanceof Error ? error.message : error);
    process.exitCode = 1;
  });
}
