/**
 * Start-up settings: one schema (`settings-schema.ts`) from which defaults, the JSON file's keys, the `WELCOMB_…`
 * names, the flags, the help text and the checks all come. Later sources win: file, then environment, then flags.
 */
import { parseArgs } from 'node:util';
import * as z from 'zod';
import type { Settings } from './settings-schema.ts';
import { settingsSchema } from './settings-schema.ts';
import { fileFault } from './user-error.ts';

export type { Settings } from './settings-schema.ts';

export type ParsedSettings =
  | { readonly ok: true; readonly settings: Settings }
  | { readonly ok: false; readonly message: string };

/** One key of the settings, as read off the schema. */
export interface SettingKey {
  /** As in the file, with dots: `httpTls.key`. */
  readonly path: string;
  readonly flag: string;
  readonly variable: string;
  readonly type: 'string' | 'boolean' | 'integer' | 'array';
  readonly form: string;
  readonly about: string;
  /** As text; absent where there is none. */
  readonly default?: string;
  /** Kept off the command line, where every user of the machine could read it. */
  readonly secret: boolean;
}

const jsonKey = z.object({
  type: z.enum(['string', 'boolean', 'integer', 'array', 'object']),
  description: z.string().default(''),
  default: z.unknown().optional(),
  form: z.string().default(''),
  secret: z.boolean().default(false),
  properties: z.record(z.string(), z.unknown()).optional(),
});
const dashed = (path: string): string =>
  path.replace(/[A-Z]/g, (c) => `-${c.toLowerCase()}`).replaceAll('.', '-');

function keysOf(properties: Readonly<Record<string, unknown>>, above: string): SettingKey[] {
  return Object.entries(properties).flatMap(([name, value]): SettingKey[] => {
    const key = jsonKey.parse(value);
    const path = `${above}${name}`;
    if (key.type === 'object') return keysOf(key.properties ?? {}, `${path}.`);
    const flag = `--${dashed(path)}`;
    const byDefault = key.default === undefined ? '' : String(key.default);
    return [
      {
        path,
        flag,
        variable: `WELCOMB_${flag.slice(2).replaceAll('-', '_').toUpperCase()}`,
        type: key.type,
        form: key.form,
        about: key.description,
        ...(byDefault === '' || key.type === 'boolean' ? {} : { default: byDefault }),
        secret: key.secret,
      },
    ];
  });
}

/** Every key once, in the schema's order. */
export const settingKeys: readonly SettingKey[] = keysOf(
  z.toJSONSchema(settingsSchema, { io: 'input' }).properties ?? {},
  '',
);
/** Where the file itself is named; it can't name itself. */
const fileKey = { flag: '--settings', variable: 'WELCOMB_SETTINGS' } as const;

/** The part of `--help` about settings, from the schema. */
export function settingsHelp(): string {
  const rows = settingKeys.map((key) => ({
    left: key.secret ? `(no flag)` : `${key.flag}${key.form === '' ? '' : ` ${key.form}`}`,
    right: `${key.about}${key.default === undefined ? '' : ` (default ${key.default})`}`,
    names: `${key.variable}, "${key.path}" in the file`,
  }));
  rows.push({
    left: `${fileKey.flag} FILE`,
    right: 'JSON file with any of these keys',
    names: fileKey.variable,
  });
  const width = Math.max(...rows.map((row) => row.left.length)) + 2;
  const lines = rows.map(
    (row) => `  ${row.left.padEnd(width)}${row.right}\n  ${' '.repeat(width)}[${row.names}]`,
  );
  return `Settings (flags win over the environment, the environment over the file):\n${lines.join('\n')}\n`;
}

/** A value with the place that it came from, for the sentence that complains about it. */
interface Given {
  readonly path: string;
  readonly value: unknown;
  readonly from: string;
}
/** A place that takes the complaints of one reading, a sentence each. */
type Complain = (sentence: string) => void;

function fromText(key: SettingKey, text: string): unknown {
  if (key.type === 'array') return text === '' ? [] : text.split(',').map((item) => item.trim());
  if (key.type === 'boolean')
    return text === '' || text === 'true' || text === '1' ? true : isNo(text) ? false : text;
  if (key.type === 'integer' && /^-?\d+$/.test(text)) return Number(text);
  return text;
}
const isNo = (text: string): boolean => text === 'false' || text === '0';

function fromFlags(
  argv: readonly string[],
  complain: Complain,
): { given: Given[]; file: string | undefined } {
  const options = Object.fromEntries(
    [...settingKeys.filter((key) => !key.secret), { flag: fileKey.flag, type: 'string' as const }].map(
      (key) => [
        key.flag.slice(2),
        { type: key.type === 'boolean' ? ('boolean' as const) : ('string' as const) },
      ],
    ),
  );
  const { tokens } = parseArgs({
    args: [...argv],
    options,
    strict: false,
    allowPositionals: true,
    tokens: true,
  });
  let named: string | undefined;
  const given: Given[] = [];
  /** What follows an unknown flag belongs to it, and may be a secret. */
  let afterUnknown = false;
  for (const token of tokens) {
    if (token.kind === 'option-terminator') continue;
    if (token.kind === 'positional') {
      if (!afterUnknown) complain(`"${token.value}" is not a flag; --help lists them all.`);
      afterUnknown = false;
      continue;
    }
    const flag = token.rawName;
    const key = settingKeys.find((one) => one.flag === flag && !one.secret);
    const isFile = flag === fileKey.flag;
    afterUnknown = !key && !isFile;
    if (afterUnknown) complain(`There is no flag ${flag}; --help lists them all.`);
    else if (key?.type === 'boolean')
      given.push({ path: key.path, value: fromText(key, token.value ?? ''), from: flag });
    else if (token.value === undefined) complain(`The flag ${flag} needs a value after it.`);
    else if (key) given.push({ path: key.path, value: fromText(key, token.value), from: flag });
    else named = token.value;
  }
  return { given, file: named };
}

function fromEnvironment(env: Readonly<Record<string, string | undefined>>, complain: Complain): Given[] {
  return Object.entries(env).flatMap(([name, text]): Given[] => {
    if (!name.startsWith('WELCOMB_') || name === fileKey.variable || text === undefined) return [];
    const key = settingKeys.find((one) => one.variable === name);
    if (!key) {
      complain(`The environment variable ${name} is no setting; --help lists them all.`);
      return [];
    }
    // A flag without a value turns on. A variable without one is what nobody set, passed on by a container.
    if (key.type === 'boolean' && text === '') return [];
    return [{ path: key.path, value: fromText(key, text), from: name }];
  });
}

/** Nothing where the file is no object of settings. */
function fromFile(
  name: string,
  readFile: (path: string) => string,
  complain: Complain,
): Record<string, unknown> {
  let text: string;
  try {
    // Some editors put a mark of the byte order before UTF-8.
    text = readFile(name).replace(/^\uFEFF/, '');
  } catch (error) {
    complain(`The settings file ${name} can't be read: ${fileFault(error)}.`);
    return {};
  }
  if (text.includes('\0') || text.includes('\uFFFD')) {
    complain(`The settings file ${name} is not UTF-8 text: save it again as UTF-8.`);
    return {};
  }
  let content: unknown;
  try {
    content = JSON.parse(text);
  } catch (error) {
    complain(`The settings file ${name} is not JSON: ${jsonFault(error)}.`);
    return {};
  }
  const object = z.record(z.string(), z.unknown()).safeParse(content);
  if (object.success && !Array.isArray(content)) return object.data;
  complain(`The settings file ${name} has to hold one JSON object, such as {"http": "127.0.0.1:8480"}.`);
  return {};
}
/** The engine's words without the piece of the file that it quotes: a password may stand there. */
const jsonFault = (error: unknown): string =>
  (error instanceof Error ? error.message : String(error)).replace(/,? \.*".*" is not valid JSON$/su, '');

/** Puts a value at `a.b` without touching the object that was there. */
function withValue(
  object: Readonly<Record<string, unknown>>,
  path: string,
  value: unknown,
): Record<string, unknown> {
  const [head = '', ...rest] = path.split('.');
  if (rest.length === 0) return { ...object, [head]: value };
  const below = z.record(z.string(), z.unknown()).catch({}).parse(object[head]);
  return { ...object, [head]: withValue(below, rest.join('.'), value) };
}

/** A sentence for each fault, each with the place of its setting. */
function complaintsOf(
  error: z.ZodError,
  given: ReadonlyMap<string, Given>,
  fileName: string,
  input: unknown,
): string[] {
  const where = (path: string): string => {
    const source = [...given.values()].find((one) => path === one.path || path.startsWith(`${one.path}.`));
    return source ? source.from : `"${path}" in the settings file ${fileName}`;
  };
  return error.issues.flatMap((issue) => {
    if (issue.code === 'unrecognized_keys') {
      const known = knownBeside(issue.path.join('.'));
      return issue.keys.map(
        (key) => `There is no setting ${where([...issue.path, key].join('.'))}; known here are ${known}.`,
      );
    }
    const path = issue.path.join('.');
    const key = settingKeys.find((one) => one.path === path);
    const value = issue.path.reduce<unknown>(
      (at, step) => (at !== null && typeof at === 'object' ? Reflect.get(at, step) : undefined),
      input,
    );
    return value === undefined
      ? `The setting "${path}" is missing beside the others of its group: ${issue.message}.`
      : `The setting ${where(path)} is ${key?.secret ? '<secret>' : JSON.stringify(value)}: ${issue.message}.`;
  });
}
const knownBeside = (above: string): string =>
  [
    ...new Set(
      settingKeys.flatMap((key) => {
        if (above !== '' && !key.path.startsWith(`${above}.`)) return [];
        return [key.path.slice(above === '' ? 0 : above.length + 1).split('.')[0] ?? ''];
      }),
    ),
  ].join(', ');

/** The settings file that a flag or the environment names. */
export function settingsFile(
  argv: readonly string[],
  env: Readonly<Record<string, string | undefined>>,
): string | undefined {
  const { file } = fromFlags(argv, () => undefined);
  return file ?? env[fileKey.variable];
}

/**
 * Settings from flags, environment and the file that one of them names. Pure but for `readFile`, which throws where
 * the file can't be read. A failure names every fault, one sentence a line: the key's path and value, and what was
 * expected.
 */
export function parseSettings(
  argv: readonly string[],
  env: Readonly<Record<string, string | undefined>>,
  readFile: (path: string) => string,
): ParsedSettings {
  const faults: string[] = [];
  const complain: Complain = (sentence) => faults.push(sentence);
  const flags = fromFlags(argv, complain);
  const fileName = settingsFile(argv, env) ?? '';
  const given = new Map([...fromEnvironment(env, complain), ...flags.given].map((one) => [one.path, one]));
  let input: Record<string, unknown> = fileName === '' ? {} : fromFile(fileName, readFile, complain);
  for (const one of given.values()) input = withValue(input, one.path, one.value);
  if (input['demo'] === true && input['data'] === undefined) input['data'] = 'welcomb-demo-data';
  const parsed = settingsSchema.safeParse(input);
  if (!parsed.success) faults.push(...complaintsOf(parsed.error, given, fileName, input));
  if (!parsed.success || faults.length > 0) return { ok: false, message: faults.join('\n') };
  return { ok: true, settings: parsed.data };
}
