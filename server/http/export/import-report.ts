/** What an import came to. */
import * as z from 'zod';

export const importReportSchema = z.object({
  added: z.int().describe('Things that were not there before; each reading counts'),
  alreadyThere: z.int(),
  leftOut: z
    .int()
    .describe('Lines that an import needs not, such as roll-ups, which are made from the readings'),
  refused: z.array(z.object({ line: z.int(), detail: z.string() })).describe('The first hundred'),
  moreRefused: z.int(),
  settingsLeftOut: z
    .array(z.object({ line: z.int(), detail: z.string() }))
    .describe('Settings, or parts of them, that were not taken in, and why; the first hundred'),
  complete: z.boolean().describe('Whether the file said that it was whole'),
  stopped: z.string().optional().describe('Why the rest of the file was not looked at; absent where it was'),
});
export type ImportReport = z.output<typeof importReportSchema>;

const mostRefusals = 100;
/** A file with more bad lines than this is another file than the one that was meant. */
const mostBadLines = 1000;
/** Of a sentence about a line: it may quote the line. */
const longestDetail = 300;

export const newReport = (): ImportReport => ({
  added: 0,
  alreadyThere: 0,
  leftOut: 0,
  refused: [],
  moreRefused: 0,
  settingsLeftOut: [],
  complete: false,
});

/** False once there are too many bad lines; the report then says so, and nothing further is to be taken in. */
export function refuse(report: ImportReport, line: number, detail: string): boolean {
  const short = detail.length > longestDetail ? `${detail.slice(0, longestDetail)}…` : detail;
  if (report.refused.length < mostRefusals) report.refused.push({ line, detail: short });
  else report.moreRefused += 1;
  if (report.refused.length + report.moreRefused < mostBadLines) return true;
  report.stopped ??=
    `Stopped at line ${String(line)}: ${String(mostBadLines)} lines could not be taken in. ` +
    'What was good before it is in; see that this is the right file, and send it again.';
  return false;
}

export function leaveOut(report: ImportReport, line: number, detail: string): void {
  if (report.settingsLeftOut.length < mostRefusals) report.settingsLeftOut.push({ line, detail });
}
