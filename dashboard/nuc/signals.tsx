/** What the readings say at this stage: each with what it rests on. */
import type { NucDetail } from '../../server/contract/nucs.ts';
import { BeesDrawing } from './bees-drawing.tsx';
import { Explained, Term } from '../parts/term.tsx';

const levelWords = {
  agrees: 'as it should be',
  against: 'needs attention',
  neutral: 'no sign',
  'cannot-tell': 'can’t tell',
} as const;

export function Signals({ one }: { one: NucDetail }) {
  return (
    <>
      {one.drift && (
        <div class={`signal ${one.drift.state === 'cannot-tell' ? 'cannot-tell' : 'neutral'}`}>
          <h3>
            Foragers (<Term word="drift" />)
          </h3>
          <p>{one.drift.text}</p>
          {one.drift.massG.ok && <RestsOn items={one.drift.massG.restsOn} />}
        </div>
      )}
      {one.signals.map((signal) => (
        <div key={signal.id} class={`signal ${signal.level}`}>
          <h3>
            {signal.title} <span class="level">{levelWords[signal.level]}</span>
          </h3>
          <p>
            <Explained words={signal.text} />
          </p>
          <RestsOn items={signal.restsOn} />
        </div>
      ))}
      {one.population && (
        <div class="signal neutral">
          <h3>Bees in the box</h3>
          <p>{one.population.text}</p>
          <BeesDrawing one={one} population={one.population} />
        </div>
      )}
      {one.drift === null && one.signals.length === 0 && (
        <p class="soft">Nothing yet: no sensor stands here, or it has not told enough.</p>
      )}
    </>
  );
}

export function RestsOn({ items }: { items: readonly string[] }) {
  if (items.length === 0) return null;
  return <p class="rests-on">Rests on {items.join('; ')}.</p>;
}
