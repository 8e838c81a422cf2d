/** One line of `welcomb advise`: a set-up, a log and an instant, read and checked. */
import * as z from 'zod';
import { isoTime } from '../contract/common.ts';
import { carryOver } from '../introduction/carry-over.ts';
import {
  introductionMethods,
  logEntrySchema,
  startingPoints,
  type LogEntry,
} from '../introduction/log/facts.ts';
import { checkNewEntry } from '../introduction/log/log-check.ts';
import type { IntroductionSetup } from '../introduction/log/setup.ts';
import { foldIntroduction } from '../introduction/state.ts';
import { parseJson } from '../json-text.ts';

export interface Question {
  readonly setup: IntroductionSetup;
  readonly log: readonly LogEntry[];
  readonly nowMs: number;
  /** Chance of a rival up to which she may be let out; the standard one where absent. */
  readonly chanceLimit?: number;
}

/** One place in a line that can't be used. */
export interface Fault {
  /** Path in the line, such as `log.2.fact.cells.open`; empty where it is the line itself. */
  readonly field: string;
  readonly problem: string;
}

export type Read =
  | { readonly ok: true; readonly question: Question }
  | { readonly ok: false; readonly faults: readonly Fault[] };

const instant = isoTime.transform((text) => Date.parse(text));

const isZone = (name: string): boolean => {
  try {
    return new Intl.DateTimeFormat('en', { timeZone: name }).resolvedOptions().timeZone !== '';
  } catch {
    return false;
  }
};

const setupSchema = z
  .object({
    startingPoint: z.enum(startingPoints),
    method: z.enum(introductionMethods).default('candy-cage'),
    timeZone: z
      .string()
      .refine(isZone, 'expected a time zone of the IANA list, such as Europe/Berlin')
      .default('UTC'),
    openedAt: instant.optional(),
    plannedSplit: instant.optional(),
    expectedQueen: instant.optional(),
    queenId: z.string().min(1).optional(),
    chanceLimit: z.number().gt(0).lt(1).optional(),
  })
  .strict();
type GivenSetup = z.infer<typeof setupSchema>;

/** An entry as the API and the export write it, or only `happenedAt` and `fact`. */
const entrySchema = z.looseObject({ happenedAt: isoTime.optional(), writtenAt: isoTime.optional() });

const introduction = { setup: setupSchema, log: z.array(entrySchema).max(5000, 'at most 5000 entries') };
const lineSchema = z
  .object({ ...introduction, now: instant, before: z.object(introduction).strict().optional() })
  .strict();

class Unusable extends Error {
  readonly faults: readonly Fault[];

  constructor(faults: readonly Fault[]) {
    super('a line that can’t be used');
    this.faults = faults;
  }
}

const faultsOf = ({ issues }: z.ZodError, under: readonly (string | number)[] = []): readonly Fault[] =>
  issues.map(({ path, message }) => ({ field: [...under, ...path].join('.'), problem: message }));

function setupOf(given: GivenSetup, id: string, log: readonly LogEntry[], nowMs: number): IntroductionSetup {
  const { startingPoint, method, timeZone, openedAt, plannedSplit, expectedQueen, queenId } = given;
  return {
    id,
    nucId: 'nuc',
    startingPoint,
    method,
    timeZone,
    openedAtMs: openedAt ?? Math.min(nowMs, ...log.map(({ happenedAtMs }) => happenedAtMs)),
    ...(plannedSplit === undefined ? {} : { plannedSplitMs: plannedSplit }),
    ...(expectedQueen === undefined ? {} : { expectedQueenMs: expectedQueen }),
    ...(queenId === undefined ? {} : { queenId }),
  };
}

type GivenEntry = z.infer<typeof entrySchema>;

/** Fills in what a script need not write, and reads the entry as the log would. */
function entryOf(
  given: GivenEntry,
  at: number,
  introductionId: string,
  under: readonly (string | number)[],
): LogEntry {
  const { happenedAt, writtenAt, ...rest } = given;
  const happenedAtMs = happenedAt === undefined ? rest.happenedAtMs : Date.parse(happenedAt);
  if (happenedAtMs === undefined && rest.type !== 'correction')
    throw new Unusable([
      {
        field: [...under, 'happenedAt'].join('.'),
        problem: 'say when it happened, such as 2027-05-01T10:00:00+02:00',
      },
    ]);
  const read = logEntrySchema.safeParse({
    id: `entry-${String(at).padStart(4, '0')}`,
    introductionId,
    type: 'fact',
    writtenAtMs: writtenAt === undefined ? happenedAtMs : Date.parse(writtenAt),
    ...rest,
    happenedAtMs,
  });
  if (!read.success) throw new Unusable(faultsOf(read.error, under));
  return read.data;
}

/** The log as far as it may be written; an entry that the log would refuse is refused here in the same words. */
function logOf(
  given: readonly GivenEntry[],
  setup: (log: readonly LogEntry[]) => IntroductionSetup,
  id: string,
  under: readonly string[],
): readonly LogEntry[] {
  const log = given.map((entry, at) => entryOf(entry, at, id, [...under, at]));
  const fixed = setup(log);
  const written: LogEntry[] = [];
  log.forEach((entry, at) => {
    const field = [...under, at].join('.');
    if (written.some(({ id: other }) => other === entry.id))
      throw new Unusable([
        { field: `${field}.id`, problem: `another entry has the id “${entry.id}”: give each its own` },
      ]);
    const check = checkNewEntry(fixed, written, entry, Infinity);
    if (!check.ok) throw new Unusable(check.problems.map(({ text }) => ({ field, problem: text })));
    written.push(entry);
  });
  return log;
}

function introductionOf(
  given: { readonly setup: GivenSetup; readonly log: readonly GivenEntry[] },
  id: string,
  under: readonly string[],
  nowMs: number,
): { readonly setup: IntroductionSetup; readonly log: readonly LogEntry[] } {
  const of = (log: readonly LogEntry[]): IntroductionSetup => setupOf(given.setup, id, log, nowMs);
  const log = logOf(given.log, of, id, [...under, 'log']);
  return { setup: of(log), log };
}

/** Reads one line; never throws for what stands in it. */
export function readQuestion(line: string): Read {
  const json = parseJson(line);
  if (!json.ok)
    return {
      ok: false,
      faults: [
        {
          field: '',
          problem:
            json.why === 'nested'
              ? 'it is nested too deep: expected {"setup", "log", "now"}'
              : 'it is not JSON: write one object {"setup", "log", "now"} a line',
        },
      ],
    };
  const read = lineSchema.safeParse(json.value);
  if (!read.success) return { ok: false, faults: faultsOf(read.error) };
  const { now: nowMs, before, setup: given } = read.data;
  try {
    const earlier = before && introductionOf(before, 'introduction-before', ['before'], nowMs);
    const { setup, log } = introductionOf(read.data, 'introduction', [], nowMs);
    const carried = earlier && carryOver(foldIntroduction(earlier.setup, earlier.log, setup.openedAtMs));
    const { chanceLimit } = given;
    return {
      ok: true,
      question: {
        setup: carried ? { ...setup, carried } : setup,
        log,
        nowMs,
        ...(chanceLimit === undefined ? {} : { chanceLimit }),
      },
    };
  } catch (error) {
    if (error instanceof Unusable) return { ok: false, faults: error.faults };
    throw error;
  }
}
