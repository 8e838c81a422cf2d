/** The server with the invented farm in it: a fresh database each time, never the keeper's own. */
import { UserError, fileFault } from './user-error.ts';
import { existsSync, rmSync, writeFileSync } from 'node:fs';
import { join } from 'node:path';
import { makeFolder } from './store/file/private-files.ts';
import { startDemo } from './demo.ts';
import { runServer, type Running } from './run.ts';
import type { Settings } from './settings.ts';

/** Marks a folder whose content was invented here and may be thrown away. */
const marker = 'invented-demo-data.txt';
const seed = 20;

/** `signal` ends the feed, and the filling if it is still under way. */
export async function runDemo(settings: Settings, signal: AbortSignal): Promise<Running> {
  prepareFolder(settings.data);
  const running = await runServer(settings);
  try {
    const { http, mqtt } = running;
    const say = (line: string): void => {
      process.stdout.write(`${line}\n`);
    };
    const { timeZone } = Intl.DateTimeFormat().resolvedOptions();
    const nowMs = Date.now();
    const feed = await startDemo({ http, mqtt, nowMs, seed, timeZone, signal, say });
    // At once: what is found now puts its nuc first when the past is evaluated.
    await running.minute();
    const ended = feed.ended.catch((error: unknown) => {
      say(`The demo's live feed has ended: ${error instanceof Error ? error.message : String(error)}`);
    });
    return {
      ...running,
      async stop() {
        await ended;
        await running.stop();
        rmSync(settings.data, { recursive: true, force: true });
      },
    };
  } catch (error) {
    await running.stop();
    throw error;
  }
}

/** Throws `UserError` rather than touch a folder that holds anything but an earlier demo. */
function prepareFolder(folder: string): void {
  const mark = join(folder, marker);
  if (existsSync(folder) && !existsSync(mark)) {
    throw new UserError(
      'cannot-start',
      `the demo needs a folder of its own, and ${folder} exists already: name another with --data.`,
    );
  }
  try {
    rmSync(folder, { recursive: true, force: true });
    makeFolder(folder);
    writeFileSync(mark, 'Everything in this folder was invented by the demo and is deleted when it ends.\n');
  } catch (error) {
    throw new UserError('cannot-start', `the demo's folder ${folder} can't be written: ${fileFault(error)}.`);
  }
}
