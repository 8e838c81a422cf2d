/** A TypeScript program as a child process that talks by lines. */
import { spawn, type ChildProcess } from 'node:child_process';
import { createInterface } from 'node:readline';

export interface Child {
  readonly process: ChildProcess;
  /** What it wrote on standard error. */
  errors(): string;
  /** The rest of the next line that begins with `word`; rejects when it ends before. */
  answer(word: string): Promise<string>;
  ask(line: string): void;
  /** Resolves when it is gone. */
  kill(signal: 'SIGKILL' | 'SIGTERM'): Promise<void>;
}

export function startChild(
  file: string,
  args: readonly string[],
  nodeOptions: readonly string[] = [],
): Child {
  const child = spawn(process.execPath, [...nodeOptions, '--import', 'tsx', file, ...args], {
    stdio: ['pipe', 'pipe', 'pipe'],
  });
  let errors = '';
  child.stderr.on('data', (chunk: Buffer) => {
    errors = (errors + chunk.toString('utf8')).slice(-10_000);
  });
  child.stdin.on('error', () => undefined);
  const waiting: { word: string; resolve: (rest: string) => void; reject: (error: Error) => void }[] = [];
  createInterface({ input: child.stdout }).on('line', (line) => {
    const at = waiting.findIndex(({ word }) => line.startsWith(`${word} `));
    if (at >= 0) waiting.splice(at, 1)[0]?.resolve(line.slice(line.indexOf(' ') + 1));
  });
  const ended = new Promise<void>((resolve) => {
    child.on('exit', () => {
      for (const { reject } of waiting.splice(0)) reject(new Error(`${file} ended:\n${errors}`));
      resolve();
    });
  });
  return {
    process: child,
    errors: () => errors,
    answer: (word) =>
      new Promise((resolve, reject) => {
        if (child.exitCode !== null || child.signalCode !== null)
          reject(new Error(`${file} has ended:\n${errors}`));
        else waiting.push({ word, resolve, reject });
      }),
    ask: (line) => child.stdin.write(`${line}\n`),
    async kill(signal) {
      child.kill(signal);
      await ended;
    },
  };
}
