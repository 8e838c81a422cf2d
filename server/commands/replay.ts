/** `welcomb replay`: what the rules would have raised over stored history, beside what was really raised. */
import { dataHelp, exitCodesHelp, type Command } from './command-line.ts';
import { ReplayWorkerPool } from './replay-worker-pool.ts';

const help = `Runs the rules again over stored history, with other limits if wanted, beside what was really raised.
Nothing is stored and no notification is sent. The server may run meanwhile. Rules are evaluated every ten minutes, or as often
as the farm's setting historyStepMinutes says. They also are where something was logged or a hold time ends. A finding
may begin and end that much later than it did live. Rules look at the nuc and at the sensors in and under it. What concerns its
site or the server is left out. A sensor counts as silent, also where the gateway or the server was down.

  welcomb replay --from DAY [--to DAY] [--nuc NAME]… [--rule RULE]… [--limit RULE.LIMIT=VALUE]… [--json]

  --from, --to      a day, such as 2026-05-01 (from midnight at the nuc's site), or an instant,
                    such as 2026-05-01T06:00:00Z; without --to until now
  --nuc NAME        name or id; may be given again; every nuc if left out
  --rule RULE       run only this rule; may be given again; every rule if left out
  --limit …         a limit other than the one set, such as brood-chilling.holdMin=20; may be given again
  --rules           list the rules with their limits
  --json            the answer as JSON Lines, one object a nuc
${dataHelp}
${exitCodesHelp}`;

export const replayCommand: Command = {
  name: 'replay',
  about: 'what the rules would have raised, beside what they really raised',
  help,
  async run(args, context) {
    // A thread takes as long to start as all else that has to be done before its first nuc.
    const pool = isForMany(args) ? new ReplayWorkerPool() : undefined;
    try {
      const { runReplay } = await import('./replay-run.ts');
      return await runReplay(args, context, pool);
    } finally {
      await pool?.end();
    }
  },
};

/** A guess, before anything is read. */
const isForMany = (args: readonly string[]): boolean =>
  !args.includes('--rules') && args.filter((arg) => arg.startsWith('--nuc')).length !== 1;
