/**
 * SenML packs (RFC 8428, JSON form): base fields, relative times, sums, must-understand labels and versions, resolved
 * into records that stand alone, in chronological order.
 */
import { read, shown, unread, type Read } from './message.ts';
import { isObject } from './payload.ts';

export interface SenmlRecord {
  readonly name: string;
  readonly unit?: string;
  readonly value?: number;
  readonly text?: string;
  readonly flag?: boolean;
  readonly data?: string;
  readonly sum?: number;
  /** Absolute, seconds since 1970. */
  readonly timeS: number;
  /** Its time was given relative to now (or not at all). */
  readonly relative: boolean;
  readonly updateS?: number;
  /** Only where the pack is of another version than 10, as §4.6 demands. */
  readonly version?: number;
}

/** The version that RFC 8428 describes (§4.4). */
const knownVersion = 10;
/** Times below 2^28 are relative to now (§4.5.3). */
const absoluteFromS = 2 ** 28;
const nameForm = /^[A-Za-z0-9][-A-Za-z0-9:./_]*$/;
/** A pack larger than this is not one of a sensor. */
const maxRecords = 10_000;

const fieldTypes = {
  bn: 'string',
  bt: 'number',
  bu: 'string',
  bv: 'number',
  bs: 'number',
  bver: 'number',
  n: 'string',
  u: 'string',
  v: 'number',
  vs: 'string',
  vb: 'boolean',
  vd: 'string',
  s: 'number',
  t: 'number',
  ut: 'number',
} as const;

interface Fields {
  bn?: string;
  bt?: number;
  bu?: string;
  bv?: number;
  bs?: number;
  bver?: number;
  n?: string;
  u?: string;
  v?: number;
  vs?: string;
  vb?: boolean;
  vd?: string;
  s?: number;
  t?: number;
  ut?: number;
}

interface Base {
  readonly bn: string;
  readonly bt: number;
  readonly bu?: string;
  readonly bv?: number;
  readonly bs?: number;
  readonly bver: number;
}

/** Types of the known labels; a label that ends in `_` and is not known makes the pack unusable (§4.4). */
function readFields(record: unknown, at: string): Read<Fields> {
  if (!isObject(record)) return unread(`${at} is not an object`);
  const fields: Record<string, unknown> = {};
  for (const [label, value] of Object.entries(record)) {
    const type = Object.hasOwn(fieldTypes, label) ? fieldTypes[label as keyof typeof fieldTypes] : undefined;
    if (type === undefined) {
      if (label.endsWith('_'))
        return unread(`${at} has the label "${shown(label)}", which has to be understood`);
    } else if (typeof value !== type || (type === 'number' && !Number.isFinite(value))) {
      return unread(`${at}: "${label}" is ${shown(value)} and should be a ${type}`);
    } else {
      fields[label] = value;
    }
  }
  return read(fields as Fields);
}

function nextBase(base: Base, fields: Fields, at: string): Read<Base> {
  const { bn, bt, bu, bv, bs, bver } = fields;
  if (bver !== undefined && (!Number.isInteger(bver) || bver < 1 || bver > knownVersion)) {
    return unread(
      `${at} is of SenML version ${String(bver)}; known are versions up to ${String(knownVersion)}`,
    );
  }
  return read({
    ...base,
    ...(bn === undefined ? {} : { bn }),
    ...(bt === undefined ? {} : { bt }),
    ...(bu === undefined ? {} : { bu }),
    ...(bv === undefined ? {} : { bv }),
    ...(bs === undefined ? {} : { bs }),
    ...(bver === undefined ? {} : { bver }),
  });
}

function valueOf(base: Base, { v, vs, vb, vd }: Fields): Partial<SenmlRecord> {
  if (vs !== undefined) return { text: vs };
  if (vb !== undefined) return { flag: vb };
  if (vd !== undefined) return { data: vd };
  if (v !== undefined || base.bv !== undefined) return { value: (base.bv ?? 0) + (v ?? 0) };
  return {};
}

function resolveOne(base: Base, fields: Fields, nowS: number, at: string): Read<SenmlRecord> {
  const name = base.bn + (fields.n ?? '');
  if (!nameForm.test(name)) return unread(`${at} has the name "${shown(name)}", which SenML does not allow`);
  const given = [fields.v, fields.vs, fields.vb, fields.vd].filter((value) => value !== undefined).length;
  if (given > 1) return unread(`${at} has more than one value`);
  const value = valueOf(base, fields);
  const hasSum = fields.s !== undefined || base.bs !== undefined;
  if (Object.keys(value).length === 0 && !hasSum) return unread(`${at} has neither a value nor a sum`);
  const sum = (base.bs ?? 0) + (fields.s ?? 0);
  const time = base.bt + (fields.t ?? 0);
  const unit = fields.u ?? base.bu;
  const numbers = [value.value ?? 0, sum, time];
  if (!numbers.every(Number.isFinite))
    return unread(`${at} adds up to something that is not a finite number`);
  return read({
    name,
    ...(unit === undefined ? {} : { unit }),
    ...value,
    ...(hasSum ? { sum } : {}),
    timeS: time < absoluteFromS ? nowS + time : time,
    relative: time < absoluteFromS,
    ...(fields.ut === undefined ? {} : { updateS: fields.ut }),
    ...(base.bver === knownVersion ? {} : { version: base.bver }),
  });
}

/** A pack as parsed JSON. `nowS`: the instant to which relative times refer, seconds since 1970. */
export function resolveSenml(pack: unknown, nowS: number): Read<readonly SenmlRecord[]> {
  if (!Array.isArray(pack)) return unread('a SenML pack is a JSON array');
  if (pack.length === 0) return unread('the SenML pack is empty');
  if (pack.length > maxRecords) return unread(`the SenML pack has more than ${String(maxRecords)} records`);
  let base: Base = { bn: '', bt: 0, bver: knownVersion };
  const records: SenmlRecord[] = [];
  for (const [index, item] of pack.entries()) {
    const at = `record ${String(index + 1)} of the SenML pack`;
    const fields = readFields(item, at);
    if (!fields.ok) return fields;
    const next = nextBase(base, fields.value, at);
    if (!next.ok) return next;
    base = next.value;
    const record = resolveOne(base, fields.value, nowS, at);
    if (!record.ok) return record;
    records.push(record.value);
  }
  return read(records.sort((a, b) => a.timeS - b.timeS));
}
