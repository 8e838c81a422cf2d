/** What the commands share: their form, how they refuse, and how they read their options. */
import { accessSync, constants, readFileSync } from 'node:fs';
import { parseArgs, type ParseArgsConfig } from 'node:util';
import '../plain-faults.ts';
import { parseSettings } from '../settings.ts';
import { UserError, fileFault } from '../user-error.ts';

/** Environment, clock and terminal of a command; tests give their own. */
export interface CommandContext {
  readonly env: Readonly<Record<string, string | undefined>>;
  readonly nowMs: () => number;
  readonly say: (line: string) => void;
  /** What somebody types without it being shown. */
  readonly askSecret: (question: string) => Promise<string>;
}

export interface Command {
  readonly name: string;
  /** One line for the list of commands. */
  readonly about: string;
  readonly help: string;
  /** Resolves with the exit code. Rejects with `CommandRefused` where what was asked can't be done. */
  run(args: readonly string[], context: CommandContext): Promise<number>;
}

/** One sentence for whoever typed it: what, where, what to do. */
export class CommandRefused extends UserError {
  override readonly name = 'CommandRefused';

  constructor(message: string, details: { readonly cause?: unknown } = {}) {
    super('invalid-input', message, details);
  }
}

export const exitCode = { done: 0, wrong: 1, refused: 2 } as const;

/** An address that the network may still bring to this machine, after a restart of it say. */
const addressesToCome: readonly unknown[] = ['EADDRNOTAVAIL', 'ENOTFOUND', 'EAI_AGAIN'];

/** How a server ends that can't start: `refused` waits for its owner, the other is tried again by its supervisor. */
export function codeOfFailedStart(error: UserError): number {
  let { cause } = error;
  while (cause instanceof Error && !addressesToCome.includes(codeOf(cause))) ({ cause } = cause);
  return cause instanceof Error ? exitCode.wrong : exitCode.refused;
}

export const exitCodesHelp = `Exit codes: 0 done; 1 looked and found something wrong, or failed on the way; 2 refused, nothing changed.
`;

type Options = NonNullable<ParseArgsConfig['options']>;

/** As `parseArgs`, strictly, with the command's name in the complaint. */
export function parsed<O extends Options>(command: string, args: readonly string[], options: O) {
  try {
    return parseArgs({ args: [...args], options, allowPositionals: true, strict: true });
  } catch (error) {
    const reason = error instanceof Error ? error.message.replace(/\.? To specify.*$/s, '') : String(error);
    throw new CommandRefused(`${reason}; "welcomb ${command} --help" lists the options.`);
  }
}

export const dataOptions = {
  data: { type: 'string' },
  settings: { type: 'string' },
} as const satisfies Options;

export const dataHelp = `  --data DIR        folder of the database (WELCOMB_DATA, or "data" in the settings file; default welcomb-data)
  --settings FILE   the server's settings file, where it has one (WELCOMB_SETTINGS)
`;

/** The data folder exactly as the server would find it. */
export function dataFolder(
  { data, settings }: { readonly data?: string | undefined; readonly settings?: string | undefined },
  env: CommandContext['env'],
): string {
  const argv = [
    ...(data === undefined ? [] : [`--data=${data}`]),
    ...(settings === undefined ? [] : [`--settings=${settings}`]),
  ];
  const found = parseSettings(argv, env, (path) => readFileSync(path, 'utf8'));
  if (!found.ok) throw new CommandRefused(found.message);
  return found.settings.data;
}

const codeOf = (error: unknown): unknown =>
  error instanceof Error && 'code' in error ? error.code : undefined;

/** Whether a file or folder is there. Throws `CommandRefused` where that is not for this user to see. */
export function isThere(path: string): boolean {
  try {
    accessSync(path, constants.R_OK);
    return true;
  } catch (error) {
    if (['ENOENT', 'ENOTDIR'].includes(String(codeOf(error)))) return false;
    throw unreadable(path, error);
  }
}

export function unreadable(path: string, cause: unknown): CommandRefused {
  const hint = ['EACCES', 'EPERM'].includes(String(codeOf(cause)))
    ? ' Run the command as the user of the server.'
    : '';
  return new CommandRefused(`${path} can't be read: ${fileFault(cause)}.${hint}`, { cause });
}

export function megabytes(bytes: number): string {
  return `${(bytes / 1e6).toFixed(bytes < 1e8 ? 1 : 0)} MB`;
}
