/** `npm run replay -- FILE …`: replays a CSV file over MQTT. */
import { createReadStream } from 'node:fs';
import { parseArgs } from 'node:util';
import { parse } from 'csv-parse';
import { Temporal } from 'temporal-polyfill';
import { isEntry, stopOnSignal } from './command.ts';
import { openPublisher, type Pace } from './sending/publish.ts';
import {
  parseMap,
  parseShift,
  parseTime,
  ReplayOptionError,
  type ReplayPlan,
  type Shift,
} from './sending/replay-plan.ts';
import { readRows, shifted, type ReplayRows } from './sending/replay-rows.ts';

const help = `Replays the readings in a CSV file over MQTT (QoS 1), with their own times or shifted.

  npm run replay -- FILE --time 'COLUMN KIND' --map 'COLUMN=SENSOR/QUANTITY[/PROBE][:UNIT]' …

A COLUMN is its number, from 1, or its heading. The first line is taken as headings when a heading is
used, or when its time can't be read.

  --time 'COLUMN KIND'  KIND is one of
                          iso                  2021-06-19T00:01:08Z
                          local                2016-11-18 00:30, in --zone
                          unix, unix-ms        seconds or milliseconds since 1970
                          minute-of-day DATE   minutes after midnight of DATE, in --zone
                          second-of-day DATE   seconds after midnight of DATE, in --zone
  --map …               once for each column to send; QUANTITY is weight, temperature, humidity,
                        battery or rain; UNIT is kg, g, lb, Cel, F, %RH … (the stored unit if left out)
  --zone ZONE           IANA zone, or an offset such as -05:00 (UTC if left out)
  --missing TEXT        a value that means "none", such as 0 or NA; may be given again
  --separator TEXT      between columns; a comma if left out
  --shift none | end-now | start=INSTANT
                        keep the times (default), or move all so that the last is now or the first at INSTANT
  --pace max | FACTOR   as fast as the broker acknowledges (default), or FACTOR times real time
  --broker URL          mqtt://127.0.0.1:1883 if left out
  --user NAME           password in the environment variable REPLAY_PASSWORD
  --dry-run             say what would be sent, and send nothing

A day without headings, minute of day and kg:
  npm run replay -- day.csv --time '1 minute-of-day 2018-04-07' --zone Australia/Sydney \\
    --map '2=scale-1/weight:kg'
Local times, two temperatures, 0 = missing:
  npm run replay -- year.csv --time 'time local' --zone Australia/Sydney --missing 0 \\
    --map 'inside=hive-1/temperature/brood:Cel' --map 'outside=sky-1/temperature:Cel'
`;

export interface ReplayCommand {
  readonly file: string;
  readonly plan: ReplayPlan;
  readonly shift: Shift;
  /** Infinity is as fast as taken. */
  readonly factor: number;
  readonly broker: string;
  readonly user?: string;
  readonly dryRun: boolean;
}

/** Reads the command line; null when help is asked for. Throws a ReplayOptionError with one sentence. */
export function readCommand(args: readonly string[]): ReplayCommand | null {
  const { values, positionals } = parsed(args);
  if (values.help) return null;
  const [file, ...more] = positionals;
  if (file === undefined || more.length > 0)
    throw new ReplayOptionError('name one CSV file to replay (see --help)');
  if (values.time === undefined) throw new ReplayOptionError('say with --time which column holds the time');
  if (values.map.length === 0) throw new ReplayOptionError('say with --map which column is sent as what');
  checkZone(values.zone);
  const factor = values.pace === 'max' ? Infinity : Number(values.pace);
  if (!(factor > 0))
    throw new ReplayOptionError(`--pace "${values.pace}" is neither max nor a number above 0`);
  return {
    file,
    plan: {
      time: parseTime(values.time),
      values: values.map.map(parseMap),
      zone: values.zone,
      missing: values.missing,
      separator: values.separator,
    },
    shift: parseShift(values.shift),
    factor,
    broker: values.broker,
    ...(values.user === undefined ? {} : { user: values.user }),
    dryRun: values['dry-run'],
  };
}

function parsed(args: readonly string[]) {
  try {
    return parseArgs({
      args: [...args],
      allowPositionals: true,
      options: {
        time: { type: 'string' },
        map: { type: 'string', multiple: true, default: [] },
        zone: { type: 'string', default: 'UTC' },
        missing: { type: 'string', multiple: true, default: [] },
        separator: { type: 'string', default: ',' },
        shift: { type: 'string', default: 'none' },
        pace: { type: 'string', default: 'max' },
        broker: { type: 'string', default: 'mqtt://127.0.0.1:1883' },
        user: { type: 'string' },
        'dry-run': { type: 'boolean', default: false },
        help: { type: 'boolean', default: false },
      },
    });
  } catch (error) {
    throw new ReplayOptionError(error instanceof Error ? error.message : String(error));
  }
}

function checkZone(zone: string): void {
  try {
    Temporal.Instant.fromEpochMilliseconds(0).toZonedDateTimeISO(zone);
  } catch {
    throw new ReplayOptionError(
      `--zone "${zone}" is neither an IANA zone such as Europe/Berlin nor an offset`,
    );
  }
}

/** The file's rows as messages, shifted as asked. Rejects with a sentence when the file can't be read as CSV. */
export async function loadReplay(command: ReplayCommand, nowMs: number): Promise<ReplayRows> {
  const parser = parse({
    delimiter: command.plan.separator,
    relax_column_count: true,
    skip_empty_lines: true,
    bom: true,
  });
  const records: string[][] = [];
  const source = createReadStream(command.file);
  source.on('error', (error) => parser.destroy(error));
  try {
    for await (const record of source.pipe(parser)) records.push(record as string[]);
  } catch (cause) {
    const why = cause instanceof Error ? cause.message : String(cause);
    throw new Error(`can't read ${command.file} as CSV: ${why}`, { cause });
  }
  const rows = readRows(records, command.plan);
  return { ...rows, messages: shifted(rows.messages, command.shift, nowMs) };
}

async function main(args: readonly string[]): Promise<number> {
  const command = readCommand(args);
  if (!command) {
    process.stdout.write(help);
    return 0;
  }
  const rows = await loadReplay(command, Date.now());
  const [first, last] = [rows.messages[0], rows.messages.at(-1)];
  for (const problem of rows.problems.slice(0, 5)) console.error(problem);
  if (rows.problems.length > 5) console.error(`… and ${String(rows.problems.length - 5)} more such lines`);
  if (!first || !last)
    throw new ReplayOptionError(`no reading could be taken from ${command.file}: nothing was sent`);
  const span = `from ${new Date(first.atMs).toISOString()} to ${new Date(last.atMs).toISOString()}`;
  const left = `${String(rows.missing)} missing values and ${String(rows.problems.length)} unreadable ones left out`;
  if (command.dryRun) {
    console.log(`would send ${String(rows.messages.length)} readings ${span}; ${left}`);
    return 0;
  }
  const password = process.env['REPLAY_PASSWORD'];
  const publisher = await openPublisher({
    url: command.broker,
    ...(command.user === undefined ? {} : { username: command.user }),
    ...(password === undefined ? {} : { password }),
  });
  const pace: Pace =
    command.factor === Infinity
      ? { kind: 'as-fast-as-taken' }
      : { kind: 'by-the-clock', factor: command.factor, startMs: first.atMs };
  const sent = await publisher.publish(rows.messages, { pace, signal: stopOnSignal() });
  await publisher.close();
  console.log(`${String(sent)} readings acknowledged, ${span}; ${left}`);
  return 0;
}

if (isEntry(import.meta.url)) {
  main(process.argv.slice(2)).then(
    (code) => (process.exitCode = code),
    (error: unknown) => {
      console.error(error instanceof Error ? error.message : error);
      process.exitCode = 1;
    },
  );
}
