/** The real world for the commands: environment, clock, terminal. */
import { createInterface } from 'node:readline/promises';
import { Writable } from 'node:stream';
import type { CommandContext } from './command-line.ts';

/** From a terminal without showing it; from a pipe the first line. */
async function askSecret(question: string): Promise<string> {
  const { stdin, stderr } = process;
  if (stdin.isTTY) stderr.write(question);
  const unseen = new Writable({
    write: (_chunk, _encoding, done) => {
      done();
    },
  });
  const lines = createInterface({ input: stdin, output: unseen, terminal: stdin.isTTY });
  try {
    for await (const line of lines) return line;
    return '';
  } finally {
    lines.close();
    if (stdin.isTTY) stderr.write('\n');
  }
}

export const processContext: CommandContext = {
  env: process.env,
  nowMs: Date.now,
  say: (line) => {
    process.stdout.write(`${line}\n`);
  },
  askSecret,
};
