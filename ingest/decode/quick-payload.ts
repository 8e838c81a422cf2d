/**
 * The two payloads that most of our own sensors send, `21.5` and `{"value": 21.5, "time": 1780000000}`, read from their
 * bytes: no text, no object in between. Whatever is unusual about a payload is left to the readers in `payload.ts`, with
 * which this one agrees wherever it answers.
 */

export interface QuickPayload {
  readonly value: number;
  /** As it was sent: seconds or milliseconds. */
  readonly time: number | undefined;
}

const quote = 0x22;
const comma = 0x2c;
const minus = 0x2d;
const dot = 0x2e;
const zero = 0x30;
const nine = 0x39;
const colon = 0x3a;
const opening = 0x7b;
const closing = 0x7d;
const space = 0x20;
/** So many digits are exact as a whole number, and so is the power of ten below: their quotient is the nearest number. */
const mostExactDigits = 15;
/** What a program prints of a number that it has worked with, such as 12.299999999999999, and no more. */
const mostDigits = 20;
const powersOfTen = Float64Array.from({ length: mostExactDigits + 1 }, (_, exponent) => 10 ** exponent);
const valueKey = Buffer.from('value"');
const timeKey = Buffer.from('time"');

class PayloadScan {
  private readonly bytes: Uint8Array;
  private at = 0;

  constructor(bytes: Uint8Array) {
    this.bytes = bytes;
  }

  get ended(): boolean {
    return this.at === this.bytes.length;
  }

  skipSpaces(): void {
    while (this.bytes[this.at] === space) this.at += 1;
  }

  /** Goes behind `wanted` and the spaces before it, where it comes next. */
  passes(wanted: number): boolean {
    this.skipSpaces();
    if (this.bytes[this.at] !== wanted) return false;
    this.at += 1;
    return true;
  }

  /** Goes behind the rest of a key and its colon, where they come next. */
  passesKey(key: Uint8Array): boolean {
    for (let i = 0; i < key.length; i += 1) if (this.bytes[this.at + i] !== key[i]) return false;
    this.at += key.length;
    return this.passes(colon);
  }

  /** A decimal number without exponent; undefined where there is none, or one that needs more care. */
  number(): number | undefined {
    const { bytes } = this;
    const negative = bytes[this.at] === minus;
    const from = negative ? this.at + 1 : this.at;
    let digits = 0;
    let dotAt = -1;
    let at = from;
    for (; at < bytes.length; at += 1) {
      const byte = bytes[at] ?? 0;
      if (byte >= zero && byte <= nine) digits = digits * 10 + (byte - zero);
      else if (byte === dot && dotAt < 0) dotAt = at;
      else break;
    }
    this.at = at;
    const whole = (dotAt < 0 ? at : dotAt) - from;
    const decimals = dotAt < 0 ? 0 : at - dotAt - 1;
    if (whole === 0 || at - 1 === dotAt || whole + decimals > mostDigits) return undefined;
    // JSON knows no leading zero.
    if (whole > 1 && bytes[from] === zero) return undefined;
    const number =
      whole + decimals > mostExactDigits
        ? Number(String.fromCharCode(...bytes.subarray(from, at)))
        : digits / (powersOfTen[decimals] ?? 1);
    return negative ? -number : number;
  }
}

function readFields(scan: PayloadScan): QuickPayload | undefined {
  let value: number | undefined;
  let time: number | undefined;
  do {
    if (!scan.passes(quote)) return undefined;
    const isValue = value === undefined && scan.passesKey(valueKey);
    if (!isValue && (time !== undefined || !scan.passesKey(timeKey))) return undefined;
    scan.skipSpaces();
    const number = scan.number();
    if (number === undefined) return undefined;
    if (isValue) value = number;
    else time = number;
  } while (scan.passes(comma));
  return scan.passes(closing) && scan.ended && value !== undefined ? { value, time } : undefined;
}

/** Undefined where the payload is anything else, well formed or not. */
export function readQuickPayload(bytes: Uint8Array): QuickPayload | undefined {
  const scan = new PayloadScan(bytes);
  if (scan.passes(opening)) return readFields(scan);
  const value = scan.number();
  return value !== undefined && scan.ended ? { value, time: undefined } : undefined;
}
