/** `welcomb advise`: the answer to set-ups and logs from a file or a pipe, for scripts. Opens no database. */
import { createReadStream } from 'node:fs';
import {
  CommandRefused,
  exitCode,
  exitCodesHelp,
  isThere,
  parsed,
  unreadable,
  type Command,
} from './command-line.ts';
import type { Fault } from './advise-input.ts';

const help = `Reads one question a line, as JSON, and writes one answer a line: stage, what is due, chance of a rival, gates, plan.
Nothing is stored, and no sensor is asked. A line that can't be used gets {"line", "errors"} in its place; the others are answered.

  welcomb advise [FILE]

  FILE              a file of JSON Lines; left out or "-": what comes over standard input

A question:
  {"setup": {"startingPoint": "planned-split", "method": "candy-cage", "timeZone": "Europe/Berlin"},
   "log": [{"happenedAt": "2027-05-01T10:00:00+02:00", "fact": {"kind": "split-made", …}}],
   "now": "2027-05-08T09:00:00+02:00"}

The guide to it, with an example: server/manual/advise.md

${exitCodesHelp}`;

export const adviseCommand: Command = {
  name: 'advise',
  about: 'the answer to logs from a file or a pipe, as JSON Lines',
  help,
  async run(args, { say }) {
    const { positionals } = parsed('advise', args, {});
    if (positionals.length > 1)
      throw new CommandRefused(
        `advise reads one file; ${String(positionals.length)} were named: run it for each.`,
      );
    const [{ readQuestion }, { adviceOn, adviceToJson }] = await Promise.all([
      import('./advise-input.ts'),
      import('./advise-answer.ts'),
    ]);
    const file = positionals[0] ?? '-';
    let line = 0;
    let unusable = 0;
    for await (const text of linesOf(file)) {
      line++;
      // White space in JavaScript, but not in JSON: the mark of the byte order that some editors put first.
      const question = text.trim();
      if (question === '') continue;
      const read = readQuestion(question);
      if (read.ok) say(JSON.stringify({ line, ...adviceToJson(adviceOn(read.question)) }));
      else {
        unusable++;
        say(JSON.stringify({ line, errors: read.faults.map((fault) => inWords(line, fault)) }));
      }
    }
    return unusable === 0 ? exitCode.done : exitCode.wrong;
  },
};

const inWords = (line: number, { field, problem }: Fault): object => ({
  field,
  text: `Line ${String(line)}${field === '' ? '' : `, ${field}`}: ${problem.replace(/\.$/, '')}. Put it right and ask again.`,
});

async function* linesOf(file: string): AsyncGenerator<string> {
  if (file !== '-' && !isThere(file))
    throw new CommandRefused(
      `There is no file ${file}: name a file of JSON Lines, or give them over standard input.`,
    );
  const input = file === '-' ? process.stdin : createReadStream(file);
  let rest = '';
  try {
    for await (const text of input.setEncoding('utf8') as AsyncIterable<string>) {
      const lines = `${rest}${text}`.split('\n');
      rest = lines.pop() ?? '';
      yield* lines;
    }
  } catch (error) {
    throw unreadable(file, error);
  }
  yield rest;
}
