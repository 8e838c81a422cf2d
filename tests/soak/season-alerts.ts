/** The alerts of a season as its keeper read them day by day, laid beside what truly happened. */
import type { AlertDto } from '../../server/contract/alerts.ts';
import { judge } from '../scenarios/judge.ts';
import type { RaisedAlert } from '../scenarios/run-scenario.ts';
import type { SeasonDevices } from './season-devices.ts';
import type { SeasonRun } from './season-nucs.ts';
import type { SeasonRow } from './season-verdicts.ts';

type Tell = ((line: string) => void) | undefined;

const hourMs = 3_600_000;
/** Silent after eight of its intervals, and then the time that a finding holds before it is told. */
const silentWithinH = 5.5;

export class SeasonAlerts {
  readonly #read = new Map<string, AlertDto>();
  #restored = { fromMs: 0, toMs: 0 };

  /** As it stands now, with the time at which it was raised first: that may move when what came late is looked back at. */
  read(items: readonly AlertDto[]): void {
    for (const one of items) {
      const raisedAt = this.#read.get(one.id)?.raisedAt ?? one.raisedAt;
      if (raisedAt !== null) this.#read.set(one.id, { ...one, raisedAt });
    }
  }

  /** What was told within this time is not known to the server any more. */
  restored(fromMs: number, toMs: number): void {
    this.#restored = { fromMs, toMs };
  }

  /** A row for each kind of nuc: how many had just what was to be expected. */
  tellNucs(runs: readonly SeasonRun[], tell: Tell): SeasonRow[] {
    const kinds = [...new Set(runs.map(({ planned }) => planned.kind))];
    return kinds.map((kind) => {
      const ofKind = runs.filter(({ planned }) => planned.kind === kind);
      let told = 0;
      let [claimed, inTime, unexpected] = [0, 0, 0];
      for (const run of ofKind) {
        const raised = this.#ofHive(run.nucId);
        told += raised.length;
        for (const row of judge(run.planned.one, run.truth, raised).rows) {
          if (row.expected === 'nothing') unexpected += 1;
          else {
            claimed += 1;
            if (row.problem === null) inTime += 1;
          }
          if (row.problem !== null)
            tell?.(`${run.nucId} (${kind}): ${row.rule}, ${row.raised}: ${row.problem}`);
        }
      }
      const expected = claimed === 0 ? '' : `${String(inTime)} of ${String(claimed)} told in time, `;
      return {
        what: `${String(ofKind.length)} introductions: ${kind}`,
        found: `${expected}${String(unexpected)} of ${String(told)} alerts not expected`,
        goal: claimed === 0 ? '0' : 'all, 0',
        ok: inTime === claimed && unexpected === 0,
      };
    });
  }

  tellSettled({ dead, behind }: SeasonDevices, ownDisk: boolean, tell: Tell): SeasonRow[] {
    const settled = [...this.#read.values()].filter(({ subject }) =>
      subject.nucIds.some((id) => id.startsWith('settled-')),
    );
    // A clock that is two hours ahead is told as what can't be, of each of that device's channels.
    const others = new Set(settled.filter(({ ruleId }) => ruleId !== 'sensor-implausible'));
    const rows = dead.map(({ sensor, diedMs }) => {
      const told = settled.filter(
        ({ ruleId, subject }) => ruleId === 'sensor-silent' && JSON.stringify(subject).includes(sensor),
      );
      for (const one of told) others.delete(one);
      const delayH = (Date.parse(told[0]?.raisedAt ?? '') - diedMs) / hourMs;
      return {
        what: `${sensor} died`,
        found: told.length === 0 ? 'not told' : `${String(told.length)} ×, after ${delayH.toFixed(1)} h`,
        goal: `1 ×, within ${String(silentWithinH)} h`,
        ok: told.length === 1 && delayH <= silentWithinH,
      };
    });
    for (const hive of behind) {
      const told = this.#ofHive(hive).filter(({ ruleId }) => ruleId === 'sensor-clock-behind').length;
      for (const one of others)
        if (one.ruleId === 'sensor-clock-behind' && one.subject.nucIds.includes(hive)) others.delete(one);
      rows.push({
        what: `the clock of ${hive} was two days behind`,
        found: `${String(told)} ×`,
        goal: '1 ×',
        ok: told === 1,
      });
    }
    for (const one of others) tell?.(`settled: ${one.ruleId} ${String(one.raisedAt)}: ${one.seen}`);
    const farm = [...this.#read.values()].filter(({ subject }) => subject.nucIds.length === 0);
    const disk = farm.filter(({ ruleId }) => ruleId === 'disk-filling').length;
    for (const one of farm) tell?.(`farm: ${one.ruleId} ${String(one.raisedAt)}: ${one.seen}`);
    const settledRow = { what: 'other alerts of the settled hives', found: String(others.size), goal: '0' };
    return [
      ...rows,
      { ...settledRow, ok: others.size === 0 },
      ...(ownDisk
        ? [{ what: 'alerts of the full disk', found: String(disk), goal: '1', ok: disk === 1 }]
        : []),
    ];
  }

  /** One that the restore took away and that is told again is counted once. */
  #ofHive(id: string): RaisedAlert[] {
    const { fromMs, toMs } = this.#restored;
    const raised = [...this.#read.values()]
      .filter(({ subject }) => subject.nucIds.includes(id))
      .map(({ ruleId, subject, urgency, raisedAt, clearedAt, seen }) => ({
        ruleId,
        urgency,
        seen,
        subject: subject.kind,
        raisedAtMs: Date.parse(raisedAt ?? ''),
        endedAtMs: clearedAt === null ? null : Date.parse(clearedAt),
      }))
      .sort((a, b) => a.raisedAtMs - b.raisedAtMs);
    const takenAway = raised.filter(({ raisedAtMs }) => raisedAtMs > fromMs && raisedAtMs <= toMs);
    return raised.filter(
      ({ ruleId, raisedAtMs }) =>
        raisedAtMs <= toMs ||
        raisedAtMs > toMs + 24 * hourMs ||
        !takenAway.some((one) => one.ruleId === ruleId),
    );
  }
}
