/** What the commands do, and that each refusal is one sentence that says what to do. */
import { join } from 'node:path';
import { describe, expect, test } from 'vitest';
import { CommandRefused, type Command, type CommandContext } from '../../server/commands/command-line.ts';
import { adviseCommand } from '../../server/commands/advise.ts';
import { backupCommand } from '../../server/commands/backup.ts';
import { checkCommand } from '../../server/commands/check.ts';
import { replayCommand } from '../../server/commands/replay.ts';
import { restoreCommand } from '../../server/commands/restore.ts';
import { demoCommand, startCommand } from '../../server/commands/start.ts';
import { userCommand } from '../../server/commands/user.ts';
import { checkPassword } from '../../server/farm/people.ts';
import type { Subject } from '../../server/rules/engine/types.ts';
import { openStore, type Store } from '../../server/store/store.ts';
import { StoreConflict } from '../../server/store/errors.ts';
import { commit, hour, may1, minute, reading } from '../store/support/made-up.ts';
import { temporaryFolder } from '../store/support/temporary-store.ts';
import { welcomb } from '../support/command.ts';
import { full } from '../support/size.ts';

const commands = [
  startCommand,
  demoCommand,
  checkCommand,
  backupCommand,
  restoreCommand,
  userCommand,
  replayCommand,
  adviseCommand,
];

/** Runs a command in this process; `typed` answers a question for a password. */
async function run(command: Command, args: readonly string[], typed = ''): Promise<string> {
  let said = '';
  const around: CommandContext = {
    env: {},
    nowMs: () => may1,
    say: (line) => {
      said += `${line}\n`;
    },
    askSecret: () => Promise.resolve(typed),
  };
  expect(await command.run(args, around)).toBe(0);
  return said;
}

function folderWith(fill: (store: Store) => void): string {
  const folder = temporaryFolder();
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => may1 });
  fill(store);
  store.close();
  return folder;
}

async function withStore<T>(folder: string, look: (store: Store) => T | Promise<T>): Promise<T> {
  const store = openStore({ file: join(folder, 'welcomb.db'), nowMs: () => may1 });
  try {
    return await look(store);
  } finally {
    store.close();
  }
}

describe('the command line', () => {
  test.each(commands.map((command) => [command.name, command] as const))(
    '%s explains itself, with its exit codes, and refuses an option that it has not',
    async (name, command) => {
      expect(command.help).toContain(`welcomb ${name}`);
      expect(command.help).toContain('Exit codes:');
      const odd = run(command, ['--colour', 'blue']);
      await expect(odd).rejects.toThrow(CommandRefused);
      await expect(odd).rejects.toThrow(/--colour.*--help/s);
    },
  );

  test('lists its commands, tells its version, and names a command that is none', async () => {
    const help = await welcomb(['--help']);
    expect(help.code).toBe(0);
    for (const { name } of commands) expect(help.out).toMatch(new RegExp(`^  ${name} `, 'm'));
    expect((await welcomb(['--version'])).out).toMatch(/^\d+\.\d+\.\d+\n$/);
    expect(await welcomb(['feed'])).toEqual({
      code: 2,
      out: '',
      err: 'There is no command "feed"; "welcomb --help" lists them.\n',
    });
    const [check, inTheFolder] = [await welcomb(['check', '--help']), temporaryFolder()];
    expect(check).toMatchObject({ code: 0, out: expect.stringContaining('--data DIR') as string });
    expect(await welcomb(['check'], { cwd: inTheFolder })).toMatchObject({
      code: 2,
      err: 'There is no database in welcomb-data: name the folder with --data, or start the server there once.\n',
    });
  });
});

describe('user', () => {
  const password = 'nine frames of bees';

  test('adds, lists, renews, promotes and removes, and notes it in the access log', async () => {
    const folder = folderWith(() => undefined);
    const at = ['--data', folder];
    expect(await run(userCommand, ['list', ...at])).toContain('Nobody yet');
    await run(userCommand, ['add', 'Ada', ...at], password);
    await run(userCommand, ['add', 'Ben of the hill', '--role', 'helper', ...at], password);
    expect(await run(userCommand, ['list', ...at])).toBe(
      'Ada\tkeeper\tsince 2026-05-01\nBen of the hill\thelper\tsince 2026-05-01\n',
    );
    await run(userCommand, ['password', 'Ada', ...at], 'another ten letters');
    await withStore(folder, async ({ people }) => {
      expect(await checkPassword(people, 'Ada', password)).toBeUndefined();
      expect(await checkPassword(people, 'Ada', 'another ten letters')).toMatchObject({ name: 'Ada' });
    });
    await run(userCommand, ['role', 'Ben of the hill', 'keeper', ...at]);
    await run(userCommand, ['remove', 'Ada', ...at]);
    await withStore(folder, ({ people }) => {
      expect(people.list().map(({ name, role }) => [name, role])).toEqual([['Ben of the hill', 'keeper']]);
      expect(people.audit().map(({ who, what }) => `${who}: ${what}`)).toEqual([
        'command line: Ada was removed.',
        'command line: Ben of the hill is keeper now.',
        'command line: Ada has a new password and is signed out everywhere.',
        'command line: Ben of the hill was added as helper.',
        'command line: Ada was added as keeper.',
      ]);
    });
  });

  test.each([
    {
      args: ['add', 'Cy', '--role', 'helper'],
      typed: password,
      kind: StoreConflict,
      sentence: /first person has to be a keeper/,
    },
    { args: ['add', 'Cy'], typed: 'short', kind: StoreConflict, sentence: /password won't do/ },
    { args: ['add'], typed: password, kind: CommandRefused, sentence: /Name the person/ },
    {
      args: ['add', 'Cy', 'Dee'],
      typed: password,
      kind: CommandRefused,
      sentence: /"Dee" is one word too many/,
    },
    {
      args: ['add', 'Cy', '--role', 'queen'],
      typed: password,
      kind: CommandRefused,
      sentence: /"queen": it is one of keeper, helper, viewer/,
    },
    { args: ['password', 'Cy'], typed: password, kind: CommandRefused, sentence: /nobody named Cy/ },
    { args: ['role', 'Cy'], typed: '', kind: CommandRefused, sentence: /role is missing/ },
    {
      args: ['fire', 'Cy'],
      typed: '',
      kind: CommandRefused,
      sentence: /"fire" is nothing that user can do: list, add/,
    },
    { args: [], typed: '', kind: CommandRefused, sentence: /Say what to do: list, add/ },
  ] as const)('$args is refused', async ({ args, typed, kind, sentence }) => {
    const folder = folderWith(() => undefined);
    const ended = (async () => run(userCommand, [...args, '--data', folder], typed))();
    await expect(ended).rejects.toThrow(kind);
    await expect(ended).rejects.toThrow(sentence);
    await withStore(folder, ({ people }) => {
      expect(people.list()).toEqual([]);
    });
  });

  test('never leaves a farm without a keeper, and reads the password from a pipe', async () => {
    const folder = folderWith(() => undefined);
    const added = await welcomb(['user', 'add', 'Ada', '--data', folder], { input: `${password}\n` });
    expect(added).toEqual({ code: 0, out: 'Ada was added as keeper.\n', err: '' });
    const removed = await welcomb(['user', 'remove', 'Ada', '--data', folder]);
    expect(removed.code).toBe(2);
    expect(removed.err).toMatch(/at least one keeper/);
  });
});

describe('replay', () => {
  /** A brood probe that falls to 27 °C for six hours, in a nuc on its second day. `moves`: as a probe does that is well. */
  function coldNuc(store: Store, moves = true): void {
    store.places.putSite({ id: 's1', name: 'Lower field', timeZone: 'Europe/Berlin', latDeg: 50, lonDeg: 8 });
    store.places.putHive({ id: 'n1', siteId: 's1', role: 'nuc', name: 'Nuc 1', box: {}, createdAtMs: may1 });
    commit(
      store,
      ...Array.from({ length: 288 }, (_, i) => {
        const atMs = may1 + i * 10 * minute;
        // As bees give way to cold: 2.5 K an hour, and then 27 °C.
        const coldForH = (atMs - may1 - 24 * hour) / hour;
        const lostK = coldForH >= 0 && coldForH < 8 ? Math.min(7.5, 2.5 * coldForH) : 0;
        return reading(atMs, 34.5 - lostK + (moves ? (i % 3) * 0.05 : 0), { probe: 'brood' });
      }),
    );
    const [channel] = store.channels.list();
    store.places.assign({
      channelId: channel!.id,
      owner: { hiveId: 'n1' },
      position: 'brood',
      fromMs: may1,
      toMs: null,
    });
  }
  const span = ['--from', '2026-05-01', '--to', '2026-05-03'];

  function splitWithBrood(store: Store): void {
    coldNuc(store);
    const introductionId = 'introduction-one';
    const [startingPoint, method] = ['planned-split', 'candy-cage'] as const;
    store.introductions.open({
      id: introductionId,
      nucId: 'n1',
      startingPoint,
      method,
      setup: {},
      openedAtMs: may1,
    });
    const when = { happenedAtMs: may1, writtenAtMs: may1 };
    const fact = {
      kind: 'split-made',
      framesOfBees: 4,
      framesOfSealedBrood: 1.5,
      framesOfOpenBrood: 1,
      framesOfStores: 1,
      oldQueen: 'seen-in-parent',
      cellsAlreadyThere: 'none',
    } as const;
    store.introductions.append([{ type: 'fact', id: 'split-one', introductionId, ...when, fact }]);
  }
  /** As the server stores an alert that is over. */
  function reallyRaised(
    store: Store,
    ruleId: string,
    raisedAtMs: number,
    subject: Subject = { kind: 'nuc', id: 'n1', name: 'Nuc 1' },
  ): void {
    const endedAtMs = raisedAtMs + 6 * hour;
    store.alerts.save({
      id: `ended ${ruleId}`,
      ruleId,
      subject,
      phase: 'ended',
      urgency: 'now',
      open: false,
      changedAtMs: endedAtMs,
      state: { ruleId, subject, episode: { id: ruleId, urgency: 'now', raisedAtMs }, endedAtMs },
      message: null,
    });
  }

  test('sets what is raised beside what was, and a changed limit changes it', async () => {
    const folder = folderWith((store) => {
      splitWithBrood(store);
      reallyRaised(store, 'brood-chilling', may1 + 25 * hour);
      reallyRaised(store, 'battery-low', may1 + 23 * hour);
    });
    const at = ['--from', '2026-05-02', '--to', '2026-05-02T06:00:00Z', '--nuc', 'n1', '--data', folder];
    const usual = await run(replayCommand, at);
    expect(usual).toMatch(/^ {2}both {4}2026-05-02T0\d:\d0:00.* brood-chilling: /m);
    expect(usual).toMatch(/^ {2}really {2}2026-05-01T23:00:00.* battery-low$/m);
    const patient = await run(replayCommand, [...at, '--limit', 'brood-chilling.holdMin=1000']);
    expect(patient).not.toMatch(/(both|replay) .* brood-chilling/);
    expect(patient).toMatch(/^ {2}really {2}2026-05-02T01:00:00.* brood-chilling$/m);
  }, 60_000);

  test('looks at the days of the nuc’s own zone, twice with the same answer, at one rule or all', async () => {
    const folder = folderWith(coldNuc);
    const all = await run(replayCommand, [...span, '--nuc', 'Nuc 1', '--json', '--data', folder]);
    expect(await run(replayCommand, [...span, '--json', '--data', folder])).toBe(all);
    const answer = JSON.parse(all) as { from: string; to: string; ticks: number };
    // Midnight in Berlin in summer is 22:00 UTC.
    expect(answer).toMatchObject({ from: '2026-04-30T22:00:00Z', to: '2026-05-02T22:00:00Z' });
    // Every few hours at least, and no more often than the watch looked: once a minute.
    expect(answer.ticks).toBeGreaterThan(12);
    expect(answer.ticks).toBeLessThanOrEqual(2 * 1440 + 1);
    const one = await run(replayCommand, [...span, '--rule', 'battery-low', '--data', folder]);
    expect(one).toContain('nothing, then and now');
  }, 60_000);

  test('names the sensor that an alert is about', async () => {
    const folder = folderWith((store) => {
      coldNuc(store, false);
    });
    const still = await run(replayCommand, [...span, '--rule', 'sensor-stuck', '--data', folder]);
    expect(still).toMatch(
      /^ {2}replay {2}2026-05-01T18:00:00.* sensor-stuck: Sensor stuck, brood probe of Nuc 1$/m,
    );
    const patient = ['--rule', 'sensor-stuck', '--limit', 'sensor-stuck.temperatureH=40'];
    expect(await run(replayCommand, [...span, ...patient, '--data', folder])).toContain(
      'nothing, then and now',
    );
  }, 60_000);

  test('knows what was raised before it begins, and stood still', async () => {
    const folder = folderWith((store) => {
      coldNuc(store, false);
      reallyRaised(store, 'sensor-stuck', may1 + 18 * hour, {
        kind: 'channel',
        id: '1',
        name: 'brood probe of Nuc 1',
        nucId: 'n1',
      });
    });
    const from = ['--from', '2026-05-01T20:00:00Z', '--to', '2026-05-03', '--rule', 'sensor-stuck'];
    const found = await run(replayCommand, [...from, '--data', folder]);
    expect(found).toMatch(/^ {2}both {4}2026-05-01T20:00:00.* sensor-stuck: /m);
    expect(found).not.toMatch(/^ {2}(replay|really) /m);
  }, 60_000);

  test.runIf(full)(
    'shares many nucs out among threads, and tells them in their order as one by one',
    async () => {
      const folder = folderWith((store) => {
        splitWithBrood(store);
        for (const [k, name] of ['Nuc 2', 'Nuc 3', 'Nuc 4'].entries())
          store.places.putHive({
            id: `n${String(k + 2)}`,
            siteId: 's1',
            role: 'nuc',
            name,
            box: {},
            createdAtMs: may1,
          });
      });
      const args = ['replay', ...span, '--json', '--data', folder];
      const all = await welcomb(args);
      expect(all).toMatchObject({ code: 0, err: '' });
      const alone = [];
      for (const name of ['Nuc 1', 'Nuc 2', 'Nuc 3', 'Nuc 4'])
        alone.push((await welcomb([...args, '--nuc', name])).out);
      expect(all.out).toBe(alone.join(''));
      expect(all.out).toContain('brood-chilling');
      // And from a developer's checkout.
      expect(await run(replayCommand, args.slice(1))).toBe(all.out);
    },
    60_000,
  );

  test('lists the rules with their limits and the bounds of these', async () => {
    const said = await run(replayCommand, ['--rules']);
    expect(said).toMatch(/^brood-chilling$/m);
    expect(said).toMatch(/^ {2}holdMin {2}\d+ min \(0 to 10080\) {2}How long it must last/m);
  });

  test.each([
    [[], /--from from which day/],
    [['--from', 'May'], /--from is "May": expected a day/],
    [['--from', '2026-05-03', '--to', '2026-05-01'], /ends at .* before it begins/],
    [['--from', '0206-05-01', '--to', '2026-05-03'], /longer than three years: change --from or --to/],
    [[...span, '--nuc', 'Nuc 9'], /no nuc "Nuc 9"; there are Nuc 1/],
    [[...span, '--rule', 'rain'], /no rule "rain"; "welcomb replay --rules"/],
    [[...span, '--limit', 'brood-chilling'], /expected RULE.LIMIT=NUMBER/],
    [[...span, '--limit', 'brood-chilling.holdMin=-1'], /must lie between 0 and 10080/],
    [[...span, '--limit', 'brood-chilling.colour=1'], /has no limit "colour"/],
    [['somewhere', ...span], /"somewhere" is not an option/],
  ] as const)('%j is refused', async (args, sentence) => {
    const folder = folderWith(coldNuc);
    const ended = (async () => run(replayCommand, [...args, '--data', folder]))();
    await expect(ended).rejects.toThrow(CommandRefused);
    await expect(ended).rejects.toThrow(sentence);
  });
});
