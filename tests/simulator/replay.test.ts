/** The replay of CSV files: every shape of columns and times that it promises, and what it says of bad ones. */
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import { join } from 'node:path';
import fc from 'fast-check';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { loadReplay, readCommand } from '../../simulator/replay.ts';
import { parseColumn, parseMap, parseShift, parseTime } from '../../simulator/sending/replay-plan.ts';
import { readRows, shifted } from '../../simulator/sending/replay-rows.ts';

const iso = (ms: number | undefined) => new Date(ms!).toISOString();
const plan = (over: Partial<Parameters<typeof readRows>[1]>) => ({
  time: parseTime('1 iso'),
  values: [parseMap('2=hive-1/weight:kg')],
  zone: 'UTC',
  missing: [],
  separator: ',',
  ...over,
});

describe('options', () => {
  it('read columns by number and by heading', () => {
    expect(parseColumn('3')).toEqual({ by: 'number', number: 3 });
    expect(parseColumn(' Temp (°C) ')).toEqual({ by: 'name', name: 'Temp (°C)' });
    expect(() => parseColumn('0')).toThrow('numbered from 1');
  });

  it('read each kind of time, with headings that hold blanks', () => {
    expect(parseTime('1 minute-of-day 2018-04-07')).toMatchObject({
      kind: 'minute-of-day',
      date: '2018-04-07',
    });
    expect(parseTime('Date/Time (LST) local')).toEqual({
      column: { by: 'name', name: 'Date/Time (LST)' },
      kind: 'local',
    });
    expect(() => parseTime('1')).toThrow('--time "1" is not COLUMN followed by');
    expect(() => parseTime('1 minute-of-day')).toThrow('is not COLUMN');
  });

  it('read what a column is, in which unit', () => {
    expect(parseMap('a=b=hive-1/temperature/brood:°F')).toEqual({
      column: { by: 'name', name: 'a=b' },
      sensor: 'hive-1',
      quantity: 'temperature',
      probe: 'brood',
      unit: '°F',
    });
    expect(parseMap('2=hive-1/weight').unit).toBe('kg');
    expect(() => parseMap('2=hive-1/wieght')).toThrow('"wieght" is no quantity');
    expect(() => parseMap('2=hive-1/weight:Cel')).toThrow('does not fit the quantity weight');
    expect(() => parseMap('2=hive/+/weight')).toThrow('is not COLUMN=SENSOR/QUANTITY');
  });

  it.each([
    [[], 'name one CSV file'],
    [['a.csv'], 'say with --time'],
    [['a.csv', '--time', '1 iso'], 'say with --map'],
    [['a.csv', '--time', '1 iso', '--map', '2=h/weight', '--zone', 'Nowhere/Land'], '--zone "Nowhere/Land"'],
    [['a.csv', '--time', '1 iso', '--map', '2=h/weight', '--pace=-1'], '--pace "-1"'],
    [['a.csv', '--time', '1 iso', '--map', '2=h/weight', '--shift', 'soon'], '--shift "soon"'],
    [['a.csv', '--speed', '2'], "Unknown option '--speed'"],
  ])('say what is wrong: %j', (args, message) => {
    expect(() => readCommand(args)).toThrow(message);
  });
});

describe('times', () => {
  const first = (time: string, cell: string, zone = 'UTC') =>
    iso(readRows([[cell, '1']], plan({ time: parseTime(time), zone })).messages[0]?.atMs);

  it('are read in the zone that was told', () => {
    expect(first('1 local', '2016-11-18 00:30', 'Australia/Sydney')).toBe('2016-11-17T13:30:00.000Z');
    expect(first('1 local', '2021-06-01 00:00:00', '-05:00')).toBe('2021-06-01T05:00:00.000Z');
    expect(first('1 minute-of-day 2018-04-07', '1', 'Australia/Sydney')).toBe('2018-04-06T14:01:00.000Z');
    expect(first('1 second-of-day 2018-04-07', '61')).toBe('2018-04-07T00:01:01.000Z');
    expect(first('1 unix', '1276020076.001')).toBe('2010-06-08T18:01:16.001Z');
    expect(first('1 unix-ms', '1276020076001')).toBe('2010-06-08T18:01:16.001Z');
    expect(first('1 iso', '2021-06-19T00:01:08+02:00')).toBe('2021-06-18T22:01:08.000Z');
  });

  it('go through the hour that autumn repeats once for each pass', () => {
    const cells = ['02:30', '02:45', '02:00', '02:15', '02:30', '02:45', '03:00'].map(
      (t) => `2026-10-25 ${t}`,
    );
    const time = parseTime('1 local');
    const { messages, problems } = readRows(
      cells.map((cell) => [cell, '1']),
      plan({ time, zone: 'Europe/Berlin' }),
    );
    expect(problems).toEqual([]);
    expect(messages.map(({ atMs }) => iso(atMs).slice(11, 16))).toEqual([
      '00:30',
      '00:45',
      '01:00',
      '01:15',
      '01:30',
      '01:45',
      '02:00',
    ]);
  });

  it('of the hour that spring leaves out are moved on', () => {
    expect(first('1 local', '2026-03-29 02:30', 'Europe/Berlin')).toBe('2026-03-29T01:30:00.000Z');
  });
});

describe('rows', () => {
  it('skip a heading, count missing values, name unreadable lines, and sort by time', () => {
    const rows = readRows(
      [
        ['time', 'kg', 'inside'],
        ['2021-06-19T00:15:00Z', '12.5', '34.1'],
        ['2021-06-19T00:00:00Z', '12.4', '0'],
        ['2021-06-19T00:30:00Z', '', '34,2'],
        ['yesterday', '12.6', '34.0'],
        ['2021-06-19T00:45:00Z'],
      ],
      plan({
        values: [parseMap('kg=hive-1/weight'), parseMap('inside=hive-1/temperature/brood')],
        time: parseTime('time iso'),
        missing: ['0', 'NA'],
      }),
    );
    expect(rows.rows).toBe(5);
    expect(rows.missing).toBe(4);
    expect(rows.messages.map(({ quantity, value }) => [quantity, value])).toEqual([
      ['weight', 12.4],
      ['weight', 12.5],
      ['temperature', 34.1],
    ]);
    expect(rows.problems).toEqual([
      'line 4: "34,2" is not a number',
      'line 5: "yesterday" is not a time of the kind iso',
    ]);
  });

  it('say which column is not there', () => {
    expect(() => readRows([['time', 'kg']], plan({ values: [parseMap('lb=h/weight')] }))).toThrow(
      'the file has no column "lb"',
    );
    expect(() => readRows([['1', '2']], plan({ values: [parseMap('5=h/weight')] }))).toThrow(
      'has no column 5',
    );
  });

  it('never send a value that is not finite, whatever the cells hold', () => {
    fc.assert(
      fc.property(fc.array(fc.tuple(fc.string(), fc.string())), (cells) => {
        const records = [['2020-01-01T00:00:00Z', '1'], ...cells];
        const rows = readRows(records, plan({}));
        expect(
          rows.messages.every(({ value, atMs }) => Number.isFinite(value) && Number.isFinite(atMs)),
        ).toBe(true);
        expect(rows.messages.length + rows.missing + rows.problems.length).toBe(records.length);
      }),
    );
  });
});

describe('a shift', () => {
  const { messages } = readRows(
    [
      ['2020-01-01T00:00:00Z', '1'],
      ['2020-01-01T06:00:00Z', '2'],
    ],
    plan({}),
  );
  it('keeps, ends now, or starts when told, the spacing kept', () => {
    const times = (text: string) =>
      shifted(messages, parseShift(text), Date.UTC(2026, 0, 1)).map((m) => iso(m.atMs));
    expect(times('none')[0]).toBe('2020-01-01T00:00:00.000Z');
    expect(times('end-now')).toEqual(['2025-12-31T18:00:00.000Z', '2026-01-01T00:00:00.000Z']);
    expect(times('start=2026-05-01T00:00Z')).toEqual([
      '2026-05-01T00:00:00.000Z',
      '2026-05-01T06:00:00.000Z',
    ]);
  });
});

describe('a file', () => {
  let folder: string;
  beforeAll(async () => {
    folder = await mkdtemp(join(tmpdir(), 'replay-'));
  });
  afterAll(() => rm(folder, { recursive: true }));

  it('with quotes, another separator and a byte-order mark', async () => {
    const file = join(folder, 'quoted.csv');
    await writeFile(file, '\uFEFF"when";"weight; net"\r\n"2026-05-01 08:00";"12.345"\r\n\r\n');
    const command = readCommand([
      file,
      '--time',
      'when local',
      '--zone',
      'Europe/Berlin',
      '--separator',
      ';',
      '--map',
      'weight; net=hive-1/weight',
    ]);
    const { messages } = await loadReplay(command!, 0);
    expect(messages).toMatchObject([{ sensor: 'hive-1', value: 12.345, unit: 'kg' }]);
    expect(iso(messages[0]?.atMs)).toBe('2026-05-01T06:00:00.000Z');
  });

  it('that is not there', async () => {
    const command = readCommand([join(folder, 'none.csv'), '--time', '1 iso', '--map', '2=h/weight']);
    await expect(loadReplay(command!, 0)).rejects.toThrow(/can't read .*none\.csv/);
  });
});
