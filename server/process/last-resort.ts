/**
 * An error that nothing caught: what the process holds in memory can't be trusted any more. It is logged, and the
 * process ends at once, so that its supervisor starts it anew. What was acknowledged is on the disk; what was not comes
 * again.
 */
import type { Logger } from 'pino';

export const uncaughtErrorMessage =
  'An error that nothing caught ends the server. What was stored is safe; please report this line.';

/** @param log has to write before it returns */
export function endOnUncaughtErrors(log: Pick<Logger, 'fatal'>, exitCode: number): void {
  const end = (error: unknown, origin: string): void => {
    try {
      log.fatal(
        { err: error instanceof Error ? error : new Error(String(error)), origin },
        uncaughtErrorMessage,
      );
    } finally {
      process.exit(exitCode);
    }
  };
  process.on('uncaughtException', end);
  process.on('unhandledRejection', (reason) => {
    end(reason, 'unhandledRejection');
  });
}
