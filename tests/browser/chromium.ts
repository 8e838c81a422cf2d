/** Debian's Chromium, without anything that reaches out of this machine. */
import type { Browser } from 'playwright-core';
import { chromium } from 'playwright-core';

const chromiumPath = '/usr/bin/chromium';

export const launch = (): Promise<Browser> =>
  chromium.launch({
    executablePath: chromiumPath,
    args: [
      '--no-sandbox',
      '--disable-gpu',
      '--disable-quic',
      '--no-first-run',
      '--disable-background-networking',
      '--disable-component-update',
      '--disable-sync',
    ],
  });

let running: Promise<Browser> | undefined;
/** One for all tests of a worker, each with a context of its own; it ends with the worker. */
export const sharedBrowser = (): Promise<Browser> => (running ??= launch());
