/** What `welcomb replay` does. */
import { Temporal } from 'temporal-polyfill';
import { adjustable, problemWithLimit, type LimitChoices } from '../rules/engine/limits.ts';
import { rules as allRules } from '../rules/catalogue/registry.ts';
import type { Rule } from '../rules/engine/rule.ts';
import type { Hive } from '../store/places/hives.ts';
import type { Store } from '../store/store.ts';
import {
  CommandRefused,
  dataFolder,
  dataOptions,
  exitCode,
  parsed,
  type CommandContext,
} from './command-line.ts';
import type { ReplayWorkerPool } from './replay-worker-pool.ts';
import type { ReplayAnswer, ReplayTask } from './replay-task.ts';
import { databaseIn, withStore } from './stored.ts';

interface Asked {
  readonly from: string;
  readonly to: string | undefined;
  readonly nucs: readonly string[];
  readonly rules: readonly Rule[] | undefined;
  readonly limits: LimitChoices;
  readonly json: boolean;
}

/** `pool` is there already where threads were started ahead. */
export async function runReplay(
  args: readonly string[],
  context: CommandContext,
  pool: ReplayWorkerPool | undefined,
): Promise<number> {
  const { values, positionals } = parsed('replay', args, {
    ...dataOptions,
    from: { type: 'string' },
    to: { type: 'string' },
    nuc: { type: 'string', multiple: true, default: [] },
    rule: { type: 'string', multiple: true, default: [] },
    limit: { type: 'string', multiple: true, default: [] },
    rules: { type: 'boolean', default: false },
    json: { type: 'boolean', default: false },
  });
  if (values.rules) {
    listRules(context.say);
    return exitCode.done;
  }
  if (positionals[0] !== undefined)
    throw new CommandRefused(`"${positionals[0]}" is not an option of replay; name a nuc with --nuc.`);
  if (values.from === undefined)
    throw new CommandRefused('Say with --from from which day on, such as 2026-05-01.');
  const asked: Asked = {
    from: values.from,
    to: values.to,
    nucs: values.nuc,
    rules: values.rule.length === 0 ? undefined : values.rule.map(ruleNamed),
    limits: limitsOf(values.limit),
    json: values.json,
  };
  const folder = dataFolder(values, context.env);
  return withStore(folder, { write: false, nowMs: context.nowMs }, async (store) => {
    await replayAll(store, databaseIn(folder), asked, context, pool);
    return exitCode.done;
  });
}

async function replayAll(
  store: Store,
  file: string,
  asked: Asked,
  context: CommandContext,
  pool: ReplayWorkerPool | undefined,
): Promise<void> {
  const nucs = nucsOf(store, asked.nucs);
  if (nucs.length === 0) sayNoNuc(asked, context);
  const names = new Map(nucs.map(({ id, name }) => [id, name]));
  // One end for all, so that the nucs of a batch are compared once.
  const nowMs = context.nowMs();
  const tasks = nucs.map((nuc) => taskOf(store, nuc, asked, nowMs));
  const onAnswer = (task: ReplayTask, answer: ReplayAnswer | undefined): void => {
    if (answer) print(names.get(task.nucId) ?? task.nucId, task, answer, asked, context);
  };
  if (pool && tasks.length > 1) {
    await pool.work(file, tasks, onAnswer);
    return;
  }
  const { replayTask, sharedOf } = await import('./replay-task.ts');
  const shared = sharedOf(store);
  for (const task of tasks) onAnswer(task, replayTask(store, task, shared));
}

/** What was asked is read all the same: a wrong day is no answer. */
function sayNoNuc(asked: Asked, { nowMs, say }: CommandContext): void {
  spanOf(asked, 'UTC', nowMs());
  if (!asked.json) say('There is no nuc to replay yet.');
}

/** Setting: a span of so many days takes a nuc a minute or more; a longer one is a slip of the pen. */
const longestDays = 1096;

function taskOf(store: Store, nuc: Hive, asked: Asked, nowMs: number): ReplayTask {
  const zone = store.places.listSites().find(({ id }) => id === nuc.siteId)?.timeZone ?? 'UTC';
  const ruleIds = asked.rules?.map(({ id }) => id);
  return { nucId: nuc.id, ...spanOf(asked, zone, nowMs), limits: asked.limits, ...(ruleIds && { ruleIds }) };
}

function spanOf(asked: Asked, zone: string, nowMs: number): Pick<ReplayTask, 'from' | 'to'> {
  const from = instantOf('--from', asked.from, zone);
  const to = asked.to === undefined ? new Date(nowMs).toISOString() : instantOf('--to', asked.to, zone);
  if (Date.parse(to) <= Date.parse(from))
    throw new CommandRefused(`The span ends at ${to}, before it begins at ${from}: change --from or --to.`);
  if (Date.parse(to) - Date.parse(from) > longestDays * 86_400_000)
    throw new CommandRefused(
      `The span from ${from} to ${to} is longer than three years: change --from or --to.`,
    );
  return { from, to };
}

function print(
  name: string,
  { nucId, from, to }: ReplayTask,
  answer: ReplayAnswer,
  { json }: Asked,
  { say }: CommandContext,
): void {
  if (json) {
    say(JSON.stringify({ nuc: name, nucId, from, to, ...answer }));
    return;
  }
  say(`${name}, ${from} to ${to}, evaluated at ${String(answer.ticks)} instants:`);
  for (const { raisedAt, clearedAt, ruleId, title, subject, reallyRaised } of answer.items)
    say(
      `  ${reallyRaised ? 'both  ' : 'replay'}  ${raisedAt} to ${clearedAt ?? 'the end'}  ${ruleId}: ${title}${ofSensor(subject)}`,
    );
  for (const { raisedAt, ruleId, subject } of answer.onlyReally)
    say(`  really  ${raisedAt}  ${ruleId}${ofSensor(subject)}`);
  if (answer.items.length + answer.onlyReally.length === 0) say('  nothing, then and now');
}

const ofSensor = ({ kind, name }: ReplayAnswer['items'][number]['subject']): string =>
  kind === 'nuc' ? '' : `, ${name}`;

function nucsOf(store: Store, wanted: readonly string[]): readonly Hive[] {
  const nucs = store.places.listHives().filter(({ role }) => role === 'nuc');
  if (wanted.length === 0) return nucs;
  return wanted.map((name) => {
    const found = nucs.find((nuc) => nuc.id === name || nuc.name === name);
    if (found) return found;
    throw new CommandRefused(
      `There is no nuc "${name}"; there are ${nucs.map((nuc) => nuc.name).join(', ') || 'none'}.`,
    );
  });
}

function instantOf(option: string, text: string, zone: string): string {
  try {
    if (/^\d{4}-\d\d-\d\d$/.test(text))
      return Temporal.PlainDate.from(text).toZonedDateTime(zone).toInstant().toString();
    return Temporal.Instant.from(text).toString();
  } catch {
    throw new CommandRefused(
      `${option} is "${text}": expected a day such as 2026-05-01 or an instant such as 2026-05-01T06:00:00Z.`,
    );
  }
}

function ruleNamed(id: string): Rule {
  const rule = allRules.find((one) => one.id === id);
  if (rule) return rule;
  throw new CommandRefused(`There is no rule "${id}"; "welcomb replay --rules" lists them.`);
}

function limitsOf(texts: readonly string[]): LimitChoices {
  const limits: Record<string, Record<string, number>> = {};
  for (const text of texts) {
    const [, ruleId = '', name = '', value = ''] = /^([\w-]+)\.(\w+)=(.+)$/.exec(text) ?? [];
    const number = Number(value);
    if (ruleId === '' || value.trim() === '' || !Number.isFinite(number))
      throw new CommandRefused(
        `--limit is "${text}": expected RULE.LIMIT=NUMBER, such as brood-chilling.holdMin=20.`,
      );
    const problem = problemWithLimit(allRules, ruleId, name, number);
    if (problem !== null) throw new CommandRefused(`--limit ${text} can't be used: ${problem}.`);
    (limits[ruleId] ??= {})[name] = number;
  }
  return limits;
}

function listRules(say: CommandContext['say']): void {
  for (const rule of allRules) {
    say(`${rule.id}`);
    for (const [name, { standard, min, max, unit, about }] of Object.entries(adjustable(rule)))
      say(`  ${name}  ${String(standard)} ${unit} (${String(min)} to ${String(max)})  ${about}`);
  }
}
