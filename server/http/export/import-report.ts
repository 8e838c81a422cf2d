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
});
export type ImportReport = z.output<typeof importReportSchema>;

const mostRefusals = 100;

export const newReport = (): ImportReport => ({
  added: 0,
  alreadyThere: 0,
  leftOut: 0,
  refused: [],
  moreRefused: 0,
  settingsLeftOut: [],
  complete: false,
});

export function refuse(report: ImportReport, line: number, detail: string): void {
  if (report.refused.length < mostRefusals) report.refused.push({ line, detail });
  else report.moreRefused += 1;
}

export function leaveOut(report: ImportReport, line: number, detail: string): void {
  if (report.settingsLeftOut.length < mostRefusals) report.settingsLeftOut.push({ line, detail });
}
