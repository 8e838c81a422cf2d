/**
 * The small, safe part of the value templates that discovery messages carry: one path into the payload, numbers,
 * `+ - * /`, parentheses and the filters float, int, round and abs. Anything else is refused, never guessed: a
 * default would turn a missing value into a measured one.
 */
import { nestedTooDeep, parseJson } from '../../server/json-text.ts';
import { read, shown, unread, type Read } from './message.ts';
import { isObject, readNumeric } from './payload.ts';

const tokenForm =
  /\s*(?:(?<number>\d+(?:\.\d+)?)|(?<name>[A-Za-z_]\w*)|(?<text>'[^'\\]*'|"[^"\\]*")|(?<sign>[-+*/().[\]|,]))/y;
const maxLength = 500;
const maxDepth = 20;

interface Token {
  readonly kind: 'number' | 'name' | 'text' | 'sign';
  readonly text: string;
}

/** Why a template is beyond the part that is understood. */
class Unsupported extends Error {}

function tokensOf(source: string): readonly Token[] {
  const tokens: Token[] = [];
  tokenForm.lastIndex = 0;
  const end = source.trimEnd().length;
  while (tokenForm.lastIndex < end) {
    const at = tokenForm.lastIndex;
    const groups = tokenForm.exec(source)?.groups;
    const found = Object.entries(groups ?? {}).find(([, text]) => text !== undefined);
    if (!found) throw new Unsupported(`"${shown(source.slice(at))}"`);
    tokens.push({ kind: found[0] as Token['kind'], text: found[1] });
  }
  return tokens;
}

type Evaluate = (payload: Payload) => number;
interface Payload {
  readonly text: string;
  readonly json: unknown;
}

const filters: Readonly<Record<string, (value: number, digits: number) => number>> = {
  float: (value) => value,
  int: (value) => Math.trunc(value),
  abs: (value) => Math.abs(value),
  round: (value, digits) => Math.round(value * 10 ** digits) / 10 ** digits,
};

/** A recursive descent over the tokens; filters bind tighter than arithmetic, as the template language has it. */
class Parser {
  readonly #tokens: readonly Token[];
  #at = 0;
  #depth = 0;

  constructor(tokens: readonly Token[]) {
    this.#tokens = tokens;
  }

  whole(): Evaluate {
    const evaluate = this.#sum();
    const rest = this.#tokens[this.#at];
    if (rest) throw new Unsupported(`"${rest.text}"`);
    return evaluate;
  }

  #take(...signs: readonly string[]): string | undefined {
    const token = this.#tokens[this.#at];
    if (token?.kind !== 'sign' || !signs.includes(token.text)) return undefined;
    this.#at += 1;
    return token.text;
  }

  #expect(sign: string): void {
    if (this.#take(sign) === undefined) throw new Unsupported(`a missing "${sign}"`);
  }

  #next(): Token {
    const token = this.#tokens[this.#at];
    if (!token) throw new Unsupported('a sudden end');
    this.#at += 1;
    return token;
  }

  #sum(): Evaluate {
    this.#depth += 1;
    if (this.#depth > maxDepth) throw new Unsupported('its depth');
    let left = this.#product();
    for (let sign = this.#take('+', '-'); sign !== undefined; sign = this.#take('+', '-')) {
      const [a, b, factor] = [left, this.#product(), sign === '+' ? 1 : -1];
      left = (payload) => a(payload) + factor * b(payload);
    }
    this.#depth -= 1;
    return left;
  }

  #product(): Evaluate {
    let left = this.#filtered();
    for (let sign = this.#take('*', '/'); sign !== undefined; sign = this.#take('*', '/')) {
      const [a, b, times] = [left, this.#filtered(), sign === '*'];
      left = (payload) => (times ? a(payload) * b(payload) : a(payload) / b(payload));
    }
    return left;
  }

  #filtered(): Evaluate {
    let value = this.#primary();
    while (this.#take('|') !== undefined) {
      const { text } = this.#next();
      const filter = Object.hasOwn(filters, text) ? filters[text] : undefined;
      if (!filter) throw new Unsupported(`the filter "${text}"`);
      const digits = this.#argument(text);
      const inner = value;
      value = (payload) => filter(inner(payload), digits);
    }
    return value;
  }

  /** Only `round` takes one; a default for `float` or `int` would invent a value. */
  #argument(filter: string): number {
    if (this.#take('(') === undefined) return 0;
    if (this.#take(')') !== undefined) return 0;
    const { kind, text } = this.#next();
    if (filter !== 'round' || kind !== 'number') throw new Unsupported(`an argument of "${filter}"`);
    this.#expect(')');
    return Math.min(10, Number(text));
  }

  #primary(): Evaluate {
    if (this.#take('-') !== undefined) {
      const inner = this.#filtered();
      return (payload) => -inner(payload);
    }
    if (this.#take('(') !== undefined) {
      const inner = this.#sum();
      this.#expect(')');
      return inner;
    }
    const { kind, text } = this.#next();
    if (kind === 'number') return () => Number(text);
    if (kind === 'name' && text === 'value') return (payload) => numberAt(payload.text, 'the payload');
    if (kind === 'name' && text === 'value_json') return this.#path();
    throw new Unsupported(`"${text}"`);
  }

  #path(): Evaluate {
    const keys: string[] = [];
    for (let sign = this.#take('.', '['); sign !== undefined; sign = this.#take('.', '[')) {
      const { kind, text } = this.#next();
      if (sign === '.' ? kind !== 'name' : kind !== 'text' && kind !== 'number')
        throw new Unsupported(`"${text}"`);
      keys.push(kind === 'text' ? text.slice(1, -1) : text);
      if (sign === '[') this.#expect(']');
    }
    return ({ json }) => numberAt(follow(json, keys), keys.join('.'));
  }
}

function follow(document: unknown, keys: readonly string[]): unknown {
  return keys.reduce<unknown>((value, key) => {
    if (Array.isArray(value)) return value[Number(key)] as unknown;
    return isObject(value) && Object.hasOwn(value, key) ? value[key] : undefined;
  }, document);
}

function numberAt(value: unknown, what: string): number {
  const number = readNumeric(value, what);
  if (!number.ok) throw new Unsupported(number.reason);
  return number.value;
}

function attempt<T>(what: string, work: () => T): Read<T> {
  try {
    return read(work());
  } catch (error) {
    if (error instanceof Unsupported) return unread(`${what}: ${error.message}`);
    throw error;
  }
}

/** Compiles `{{ … }}`; fails with what is beyond the understood part. */
export function compileTemplate(template: string): Read<Evaluate> {
  const inside = template.length > maxLength ? null : /^\s*\{\{-?(?<inside>[^{}]*?)-?\}\}\s*$/.exec(template);
  const source = inside?.groups?.['inside'];
  if (source === undefined)
    return unread('the value template is more than one expression; make a mapping for it');
  return attempt('the value template has a part that is not understood; make a mapping for it', () =>
    new Parser(tokensOf(source)).whole(),
  );
}

/** The number that `template` finds in a payload. */
export function evaluateTemplate(template: string, text: string): Read<number> {
  const compiled = compileTemplate(template);
  if (!compiled.ok) return compiled;
  const parsed = parseJson(text);
  if (!parsed.ok && parsed.why === 'nested') return unread(`the payload can't be read: ${nestedTooDeep}`);
  const json = parsed.ok ? parsed.value : undefined;
  const result = attempt('the payload does not fit its value template', () => compiled.value({ text, json }));
  if (!result.ok || Number.isFinite(result.value)) return result;
  return unread('the value template gives no finite number');
}
