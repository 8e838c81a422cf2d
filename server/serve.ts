/** The server alone, for a supervisor or `npm start`: `welcomb start` without the other commands. */
import { UserError } from './user-error.ts';
import { codeOfFailedStart } from './commands/command-line.ts';
import { startCommand } from './commands/start.ts';
import { settingsHelp } from './settings.ts';
import { version } from './version.ts';
import { processContext } from './commands/process-context.ts';

const argv = process.argv.slice(2);

if (argv.includes('--help')) {
  process.stdout.write(settingsHelp());
} else if (argv.includes('--version')) {
  process.stdout.write(`${version}\n`);
} else {
  try {
    await startCommand.run(argv, processContext);
  } catch (error) {
    if (!(error instanceof UserError)) throw error;
    process.stderr.write(`Welcomb can't start: ${error.message}\n`);
    // At once: what was half started must not keep a server alive that serves nothing.
    process.exit(codeOfFailedStart(error));
  }
}
