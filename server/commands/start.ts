/** `welcomb start` and `welcomb demo`: reads the settings, starts the server, stops it cleanly. */
import '../process/mqtt-number-cache.ts';
import { readFileSync } from 'node:fs';
import { pino } from 'pino';
import { endOnUncaughtErrors } from '../process/last-resort.ts';
import { runRestorable } from '../restarting.ts';
import type { Running } from '../run.ts';
import { parseSettings, settingsFile, settingsHelp, type Settings } from '../settings.ts';
import { makePrivate } from '../store/file/private-files.ts';
import {
  CommandRefused,
  exitCode,
  exitCodesHelp,
  type Command,
  type CommandContext,
} from './command-line.ts';

export const startCommand: Command = {
  name: 'start',
  about: 'run the server',
  help: `Runs the server until it is stopped (Ctrl-C, or SIGTERM from a supervisor).

  welcomb start [SETTINGS]

${settingsHelp()}
${exitCodesHelp}`,
  run: start,
};

export const demoCommand: Command = {
  name: 'demo',
  about: 'run the server with an invented farm, deleted at the end',
  help: `Runs the server with invented nucs, weeks of history and a live feed, in a folder of its own that is deleted at the end.

  welcomb demo [SETTINGS]

${settingsHelp()}
${exitCodesHelp}`,
  run: (args, context) => start(['--demo', ...args], context),
};

async function start(argv: readonly string[], { env }: Pick<CommandContext, 'env'>): Promise<number> {
  const parsed = parseSettings(argv, env, (path) => readFileSync(path, 'utf8'));
  if (!parsed.ok) throw new CommandRefused(parsed.message);
  const { settings } = parsed;
  const file = settingsFile(argv, env);
  if (file !== undefined && !makePrivate(file))
    process.stderr.write(
      `Other users of this machine may read the settings file ${file}: take their rights (chmod).\n`,
    );
  endOnUncaughtErrors(pino({ level: 'fatal' }, pino.destination({ dest: 2, sync: true })), exitCode.wrong);
  const ending = new AbortController();
  const running = settings.demo ? demo(settings, ending.signal) : runRestorable(settings);
  // From the first moment on: a supervisor may change its mind while the server is still starting.
  stopOnSignals(running, ending);
  await running;
  return exitCode.done;
}

/** Loaded when it is wanted: the invented farm needs a simulator and a sender of its own. */
async function demo(settings: Settings, ending: AbortSignal): Promise<Running> {
  const { runDemo } = await import('../demo-run.ts');
  return runDemo(settings, ending);
}

function stopOnSignals(running: Promise<Running>, ending: AbortController): void {
  const stop = async (): Promise<void> => {
    const server = await running;
    await server.stop();
  };
  const onSignal = (): void => {
    // A second signal means that somebody is tired of waiting.
    if (ending.signal.aborted) process.exit(1);
    ending.abort();
    stop().then(
      () => process.exit(0),
      (error: unknown) => {
        process.stderr.write(`Stopping failed: ${String(error)}\n`);
        process.exit(1);
      },
    );
  };
  process.on('SIGTERM', onSignal);
  process.on('SIGINT', onSignal);
}
