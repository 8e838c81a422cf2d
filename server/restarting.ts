/** A server that can take a backup for its database: it stops, changes the file, and starts again at the same addresses. */
import { runServer, type RunOptions, type Running } from './run.ts';
import type { Settings } from './settings.ts';
import { putInPlace } from './store/backup/restore.ts';

export async function runRestorable(settings: Settings, options: RunOptions = {}): Promise<Running> {
  let current: Promise<Running>;
  const begin = (chosen: Settings): Promise<Running> =>
    runServer(chosen, {
      ...options,
      onRestore(incoming) {
        // Where this fails, there is no server any more: the rejection ends the process, and its supervisor sees it.
        current = again(incoming);
      },
    });
  async function again(incoming: string): Promise<Running> {
    const running = await current;
    await running.stop();
    putInPlace(incoming, running.store.file);
    return begin(sameAddresses(settings, running));
  }
  current = begin(settings);
  const first = await current;
  return {
    ...first,
    async stop() {
      const last = await current;
      await last.stop();
    },
  };
}

/** Port 0 asks for any free port; whoever has the page open must find it again. */
function sameAddresses(settings: Settings, { http, mqtt }: Running): Settings {
  return {
    ...settings,
    http: { ...settings.http, port: portOf(http, settings.http.port) },
    mqtt:
      settings.broker === undefined
        ? { ...settings.mqtt, port: portOf(mqtt, settings.mqtt.port) }
        : settings.mqtt,
  };
}

const portOf = (url: string, asked: number): number => (asked === 0 ? Number(new URL(url).port) : asked);
