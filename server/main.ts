/** `welcomb`: reads the settings, starts the server, stops it cleanly. */
import { readFileSync } from 'node:fs';
import { runDemo } from './demo-run.ts';
import { runServer, StartRefused, type Running } from './run.ts';
import { parseSettings, settingsHelp } from './settings.ts';
import { version } from './version.ts';

const argv = process.argv.slice(2);

if (argv.includes('--help')) {
  process.stdout.write(settingsHelp());
} else if (argv.includes('--version')) {
  process.stdout.write(`${version}\n`);
} else {
  await start();
}

async function start(): Promise<void> {
  const parsed = parseSettings(argv, process.env, (path) => readFileSync(path, 'utf8'));
  if (!parsed.ok) refuse(parsed.message);
  const { settings } = parsed;
  const ending = new AbortController();
  const running = settings.demo ? runDemo(settings, ending.signal) : runServer(settings);
  // From the first moment on: a supervisor may change its mind while the server is still starting.
  stopOnSignals(running, ending);
  try {
    await running;
  } catch (error) {
    if (!(error instanceof StartRefused)) throw error;
    refuse(error.message);
  }
}

/**
 * One sentence on the error output, and an exit code that a supervisor can tell from a crash. Ends at once: what was
 * half started must not keep a server alive that serves nothing.
 */
function refuse(message: string): never {
  process.stderr.write(`Welcomb can't start: ${message}\n`);
  process.exit(2);
}

function stopOnSignals(running: Promise<Running>, ending: AbortController): void {
  const stop = async (): Promise<void> => {
    const { stop: stopServer } = await running;
    await stopServer();
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
