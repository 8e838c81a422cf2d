/** One history as a diary: what was written, what the tool said, what was true. The lines of the log are those of a story file. */
import type { FactPayload } from '../../server/introduction/log/facts.ts';
import type { Hive } from './hive.ts';
import { obey, theTool } from './obedient.ts';
import { scene, type Start } from './scene.ts';
import { verdictOn } from './verdict.ts';

const when = (t: number): string => {
  const day = Math.floor(t);
  const minutes = Math.round((t - day) * 1440);
  return `day ${String(day)}, ${String(Math.floor(minutes / 60))}:${String(minutes % 60).padStart(2, '0')}`;
};

/** Without what is empty or no. */
const terse = (fact: FactPayload): string =>
  JSON.stringify(fact, (_, value: unknown) => (value === false || value === 0 ? undefined : value));

const days = (t: number): string => t.toFixed(1);

function truth({ colony, queens }: Hive): string[] {
  return [
    ...colony.cells
      .filter((c) => c.missed > 0)
      .map(
        (c) =>
          `cell started ${days(c.started)}, emerges ${days(c.emerges)}, passed over ${String(c.missed)}×, cut ${days(c.cut)}, torn down ${days(c.tornDown)}`,
      ),
    ...colony.virgins.map((v) => `virgin ${days(v.from)} to ${days(v.until)}, lays from ${days(v.laysFrom)}`),
    ...colony.layers.map((l) => `${l.who} lays ${days(l.from)} to ${days(l.until)}`),
    ...queens.map(
      (q) =>
        `${q.id} free ${q.freeAt === null ? 'never' : days(q.freeAt)}, lost ${q.lostAt === null ? 'never' : `${days(q.lostAt)} to ${q.lostTo ?? ''}`}, rival ${q.rival?.who ?? 'none'}`,
    ),
  ];
}

export function trace(seed: number, start: Start): string {
  const played = obey(scene(seed, start), theTool, true);
  const { hands, said, ended, endedAt, against } = played;
  const lines = [
    ...hands.diary.map(({ t, fact }) => ({ t, text: `  ['${when(t)}', ${terse(fact)}],` })),
    ...said.map(({ t, text }) => ({ t: t + 1e-6, text: `      // ${when(t)} tool: ${text}` })),
  ].toSorted((a, b) => a.t - b.t);
  return [
    `${start.startingPoint}, ${start.method}, number ${String(seed)}`,
    ...lines.map(({ text }) => text),
    `ended on day ${String(endedAt)}: ${ended}`,
    ...against.map(({ t, kind, gate }) => `against a gate: ${when(t)} ${kind}: ${gate}`),
    'Truth:',
    ...truth(hands.scene.hive).map((line) => `  ${line}`),
    JSON.stringify(verdictOn(played)),
  ].join('\n');
}
