/** Debian's Chromium, without anything that reaches out of this machine. */
import type { Browser } from 'playwright-core';
import { chromium as playwright } from 'playwright-core';
import { chromium, wholeChromium } from '../support/programs.ts';

const start = (program: string | undefined): Promise<Browser> => {
  if (program === undefined) throw new Error('Chromium is not installed on this machine.');
  return playwright.launch({
    executablePath: program,
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
};

export const launch = (): Promise<Browser> => start(chromium);
export const launchWhole = (): Promise<Browser> => start(wholeChromium);

let running: Promise<Browser> | undefined;
/** One for all tests of a worker, each with a context of its own; it ends with the worker. */
export const sharedBrowser = (): Promise<Browser> => (running ??= launch());
