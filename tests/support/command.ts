/** The built `welcomb` command as a child process. */
import { spawn } from 'node:child_process';
import { join } from 'node:path';

export const builtCommand = join(import.meta.dirname, '../../dist/server/command.js');

export interface Ended {
  readonly code: number | null;
  readonly out: string;
  readonly err: string;
}

interface Run {
  /** Another installation's command. */
  readonly program?: string;
  /** What is typed. */
  readonly input?: string;
  readonly cwd?: string;
  /** As a user without rights; where the tests' own is root, as another one. */
  readonly withoutRights?: boolean;
}

const nobody = process.getuid?.() === 0 ? { uid: 65_534, gid: 65_534 } : {};

export async function welcomb(
  args: readonly string[],
  { program = builtCommand, input = '', cwd, withoutRights = false }: Run = {},
): Promise<Ended> {
  const child = spawn(process.execPath, [program, ...args], {
    ...(cwd === undefined ? {} : { cwd }),
    ...(withoutRights ? nobody : {}),
  });
  let out = '';
  let err = '';
  child.stdout.on('data', (chunk: Buffer) => (out += chunk.toString('utf8')));
  child.stderr.on('data', (chunk: Buffer) => (err += chunk.toString('utf8')));
  child.stdin.end(input);
  const code = await new Promise<number | null>((resolve) => child.on('close', resolve));
  return { code, out, err };
}
