#!/usr/bin/env node
/** `welcomb`: finds the command, and turns how it ended into a sentence and an exit code. */
import './process/private-umask.ts';
import type { Command } from './commands/command-line.ts';
import { codeOfFailedStart, exitCode, exitCodesHelp } from './commands/command-line.ts';
import type * as ServerCommands from './commands/start.ts';
import { processContext } from './commands/process-context.ts';
import { UserError } from './user-error.ts';
import { version } from './version.ts';

/** Each is loaded when it is wanted: listing the backups needs no broker in memory. */
const commands: Readonly<Record<string, () => Promise<Command>>> = {
  start: async () => (await serverCommands()).startCommand,
  demo: async () => (await serverCommands()).demoCommand,
  check: async () => (await import('./commands/check.ts')).checkCommand,
  backup: async () => (await import('./commands/backup.ts')).backupCommand,
  restore: async () => (await import('./commands/restore.ts')).restoreCommand,
  user: async () => (await import('./commands/user.ts')).userCommand,
  replay: async () => (await import('./commands/replay.ts')).replayCommand,
  advise: async () => (await import('./commands/advise.ts')).adviseCommand,
};

// Whoever reads the answer has had enough (`| head`): a server goes on, a command ends.
process.stdout.on('error', (error: NodeJS.ErrnoException) => {
  if (error.code !== 'EPIPE') throw error;
  if (name !== 'start' && name !== 'demo') process.exit(exitCode.done);
});

const [name = '--help', ...args] = process.argv.slice(2);
const find = Object.hasOwn(commands, name) ? commands[name] : undefined;

if (name === '--version') processContext.say(version);
else if (name === '--help' || name === 'help') processContext.say(await overview());
else if (!find) refuse(`There is no command "${name}"; "welcomb --help" lists them.`);
else if (args.includes('--help')) processContext.say((await find()).help.trimEnd());
else await run(await find());

/** A server that runs for months keeps a small heap; a command that runs for seconds, such as a replay, takes the default. */
async function serverCommands(): Promise<typeof ServerCommands> {
  await import('./process/heap-flags.ts');
  return import('./commands/start.ts');
}

async function overview(): Promise<string> {
  const all = await Promise.all(Object.values(commands).map((command) => command()));
  const lines = all.map((command) => `  ${command.name.padEnd(9)}${command.about}`);
  return `Welcomb ${version}\n\n  welcomb COMMAND [OPTIONS]\n\n${lines.join('\n')}\n\n"welcomb COMMAND --help" explains one.\n${exitCodesHelp}`.trimEnd();
}

async function run(command: Command): Promise<void> {
  try {
    process.exitCode = await command.run(args, processContext);
  } catch (error) {
    // Errors written for the owner; any other is ours, and shows where it came from.
    if (!(error instanceof UserError)) throw error;
    if (command.name === 'start' || command.name === 'demo')
      refuse(`Welcomb can't start: ${error.message}`, codeOfFailedStart(error));
    refuse(error.message);
  }
}

/** Ends at once: what was half started must not keep a server alive that serves nothing. */
function refuse(sentence: string, code: number = exitCode.refused): never {
  process.stderr.write(`${sentence}\n`);
  process.exit(code);
}
