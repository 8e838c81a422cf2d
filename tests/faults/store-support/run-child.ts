import { spawn, type ChildProcess } from 'node:child_process';
import { fileURLToPath } from 'node:url';

const program = fileURLToPath(new URL('child.ts', import.meta.url));

export interface Child {
  readonly process: ChildProcess;
  /** Whole lines that it has written so far. */
  lines(): string[];
  /** Resolves with the signal that ended it, if one did. */
  readonly ended: Promise<NodeJS.Signals | null>;
  firstLine(): Promise<void>;
}

export function runChild(...args: readonly string[]): Child {
  const child = spawn(process.execPath, ['--import', 'tsx', program, ...args], {
    stdio: ['ignore', 'pipe', 'inherit'],
  });
  let output = '';
  const ended = new Promise<NodeJS.Signals | null>((resolve) => {
    // `close`: the pipe is drained, nothing that it wrote is missing.
    child.on('close', (_code, signal) => {
      resolve(signal);
    });
  });
  const first = new Promise<void>((resolve) => {
    child.stdout.on('data', (chunk: Buffer) => {
      output += chunk.toString();
      if (output.includes('\n')) resolve();
    });
  });
  return {
    process: child,
    lines: () => output.split('\n').slice(0, -1),
    ended,
    firstLine: () => Promise.race([first, ended.then(() => undefined)]),
  };
}
