/** What the readings say at this stage: each with what it rests on. */
import type { NucDetail } from '../../server/contract/nucs.ts';
import { BeesDrawing } from './bees-drawing.tsx';
import { Explained, Term } from './term.tsx';

const levelWords = {
  agrees: 'agrees with a good course',
  against: 'speaks against it',
  neutral: 'no sign either way',
  'cannot-tell': 'can’t tell',
} as const;

/** `bare`: inside another card, without a heading of its own. */
export function Signals({ one, bare = false }: { one: NucDetail; bare?: boolean }) {
  if (bare) return <SignalList one={one} />;
  return (
    <section class="card" aria-label="What the sensors say">
      <h2>What the sensors say</h2>
      <SignalList one={one} />
    </section>
  );
}

function SignalList({ one }: { one: NucDetail }) {
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

function RestsOn({ items }: { items: readonly string[] }) {
  if (items.length === 0) return null;
  return <p class="rests-on">Rests on {items.join('; ')}.</p>;
}
