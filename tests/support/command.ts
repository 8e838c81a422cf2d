/** The built `welcomb` command as a child process. */
import { spawn } from 'node:child_process';
import { join } from 'node:path';

export const builtCommand = join(import.meta.dirname, '../../dist/server/command.js');

export interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

/** `program`: another installation's command; `input` is what is typed. */
export async function welcomb(
  args: readonly string[],
  { program = builtCommand, input = '', cwd }: { program?: string; input?: string; cwd?: string } = {},
): Promise<Ended> {
  const child = spawn(process.execPath, [program, ...args], cwd === undefined ? {} : { cwd });
  let out = '';
  let err = '';
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString('utf8')));
  child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString('utf8')));
  child.stdin.end(input);
  const code = await new Promise<number | null>((resolve) => child.on('close', resolve));
  return { code, out, err };
}
