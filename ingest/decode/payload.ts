/** From bytes to text, number or JSON. */
import { nestedTooDeep, parseJson } from '../../server/json-text.ts';
import { read, shown, unread, type Read } from './message.ts';

const utf8 = new TextDecoder('utf-8', { fatal: true });

export function readText(payload: Uint8Array): Read<string> {
  if (payload.length === 0) return unread('the payload is empty');
  try {
    return read(utf8.decode(payload));
  } catch {
    return unread('the payload is not UTF-8 text');
  }
}

const decimal = /^[+-]?(?:\d+\.?\d*|\.\d+)(?:[eE][+-]?\d{1,3})?$/;

/** A decimal number as text; hexadecimal, `Infinity`, empty text and so on are refused. */
export function readNumber(text: string): Read<number> {
  const trimmed = text.trim();
  const value = decimal.test(trimmed) ? Number(trimmed) : Number.NaN;
  return Number.isFinite(value) ? read(value) : unread(`"${shown(trimmed)}" is not a number`);
}

const openers = new Set(['{', '[', '"']);
/** Whether text that is not a number is worth the attempt. */
export const looksLikeJson = (text: string): boolean => openers.has(text.trimStart().charAt(0));

/** A finite JSON number, or text that is one. */
export function readNumeric(value: unknown, what: string): Read<number> {
  if (typeof value === 'string') {
    const number = readNumber(value);
    return number.ok ? number : unread(`${what}: ${number.reason}`);
  }
  if (typeof value === 'number' && Number.isFinite(value)) return read(value);
  if (value === undefined) return unread(`${what} is missing`);
  return unread(`${what}: ${shown(value)} is not a number`);
}

/** @param notJson the reason where it is not JSON */
export function readJson(text: string, notJson = 'the payload is neither a number nor JSON'): Read<unknown> {
  const parsed = parseJson(text);
  if (parsed.ok) return read(parsed.value);
  return unread(parsed.why === 'nested' ? `the payload can't be read: ${nestedTooDeep}` : notJson);
}

export const isObject = (value: unknown): value is Readonly<Record<string, unknown>> =>
  typeof value === 'object' && value !== null && !Array.isArray(value);
