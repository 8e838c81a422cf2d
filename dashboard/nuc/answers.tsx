/** All that can be asked about a nuc, a line each: may I …?, its foragers, brood, night, stores and bees. */
import type { NucDetail } from '../../server/contract/nucs.ts';
import { Answer } from '../parts/answer.tsx';
import { BeesDrawing } from './bees-drawing.tsx';
import { Caution } from '../parts/caution.tsx';
import { GateCard } from './gate-card.tsx';
import { RestsOn } from './signals.tsx';
import { Explained, Term } from '../parts/term.tsx';

type Signal = NucDetail['signals'][number];

/** Always asked; the others only where they have something to say. */
const always = ['brood', 'tonight', 'stores'];
const levelWords: Readonly<Partial<Record<Signal['level'], string>>> = { against: 'needs attention' };

export function Answers({ one, zone }: { one: NucDetail; zone: string }) {
  const known = one.signals.filter(({ id }) => always.includes(id));
  const others = one.signals.filter(
    ({ id, level }) => !always.includes(id) && (level === 'against' || level === 'agrees'),
  );
  // Once it has ended there is nothing left to ask leave for.
  const isOver = one.setup?.ended === true;
  const gates = isOver ? [] : one.gates;
  return (
    <section class="card answers-list" aria-label={isOver ? 'Sensors' : 'May I?'}>
      <h2>{isOver ? 'What the sensors say' : 'May I …?'}</h2>
      {gates.map((gate) => (
        <GateCard key={gate.gate} gate={gate} zone={zone} />
      ))}
      {!isOver && one.drift && (
        <Answer question="Foragers" answer={one.drift.short}>
          <p>{one.drift.text}</p>
          {one.drift.massG.ok && <RestsOn items={one.drift.massG.restsOn} />}
          <p>
            This is called <Term word="drift" />.
          </p>
        </Answer>
      )}
      {[...known, ...others].map((signal) => (
        <SignalAnswer key={signal.id} signal={signal} />
      ))}
      {one.population && (
        <Answer question="Bees" answer={one.population.short}>
          <p>{one.population.text}</p>
          <BeesDrawing one={one} population={one.population} />
        </Answer>
      )}
      <Caution about="alive" />
    </section>
  );
}

function SignalAnswer({ signal }: { signal: Signal }) {
  const level = levelWords[signal.level];
  return (
    <Answer
      question={signal.title}
      answer={level === undefined ? signal.short : `${signal.short} · ${level}`}
      kind={`signal-line ${signal.level}`}
    >
      <p>
        <Explained words={signal.text} />
      </p>
      <RestsOn items={signal.restsOn} />
    </Answer>
  );
}
