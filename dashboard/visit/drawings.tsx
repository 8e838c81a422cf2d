/** How to tell young from old larvae, and the kinds of queen cell: small drawings where they are asked. */
import type { ComponentChildren } from 'preact';

const broodAlt =
  'Side views of worker cells. Egg: a grain that stands or leans at the bottom. Young larva: a thin curl in a drop of jelly. Old larva: a fat ring that fills the bottom, or lies stretched. Sealed: a flat lid.';

/** A worker cell seen from the side, its bottom below. */
function WorkerCell({ x, children }: { x: number; children: ComponentChildren }) {
  return (
    <g transform={`translate(${String(x)} 0)`}>
      <path class="wax" d="M8 6v38q14 7 28 0V6" />
      {children}
    </g>
  );
}

export function BroodDrawing() {
  return (
    <svg class="drawing" viewBox="0 0 288 72" role="img" aria-label={broodAlt}>
      <WorkerCell x={14}>
        <path class="bee" d="M22 45l1.5-11" stroke-width="3.2" />
      </WorkerCell>
      <WorkerCell x={86}>
        <ellipse class="jelly" cx="22" cy="43.5" rx="8" ry="3.6" />
        <path class="bee" d="M18.5 42.5q3.5-6 7 0" stroke-width="2.4" />
      </WorkerCell>
      <WorkerCell x={158}>
        <path class="bee" d="M13.5 38a8.5 8.5 0 1 1 15 4" stroke-width="8.5" />
      </WorkerCell>
      <WorkerCell x={230}>
        <path class="lid" d="M8 8q14-5 28 0" />
        <path class="bee" d="M22 15v24" stroke-width="11" />
      </WorkerCell>
      <Names of={['egg', 'young larva', 'old larva', 'sealed']} />
    </svg>
  );
}

const cellsAlt =
  'Queen cells hang from the comb. Open: the mouth below is open, a larva in sight. Sealed: closed below. Emerged: the tip hangs like a lid. Torn down: a hole in the side.';

const sides = 'M9 4q-4 14 1 26q2 6 6 9m10 0q4-3 6-9q5-12 1-26';
const closedTip = 'M16 39q5 6 10 0';

function QueenCell({ x, children }: { x: number; children: ComponentChildren }) {
  return (
    <g transform={`translate(${String(x)} 0)`}>
      <path class="comb" d="M0 4h42" />
      <path class="wax" d={sides} />
      {children}
    </g>
  );
}

export function CellDrawing() {
  return (
    <svg class="drawing" viewBox="0 0 288 72" role="img" aria-label={cellsAlt}>
      <QueenCell x={15}>
        <path class="bee" d="M17 27q4-7 8 0" stroke-width="4" />
      </QueenCell>
      <QueenCell x={87}>
        <path class="lid" d={closedTip} />
      </QueenCell>
      <QueenCell x={159}>
        <path class="lid" d="M26 39q6 2 6 9" />
      </QueenCell>
      <QueenCell x={231}>
        <path class="lid" d={closedTip} />
        <ellipse class="hole" cx="30" cy="22" rx="4.5" ry="6.5" />
      </QueenCell>
      <Names of={['open', 'sealed', 'emerged', 'torn down']} />
    </svg>
  );
}

const Names = ({ of }: { of: readonly string[] }) => (
  <>
    {of.map((words, i) => (
      <text key={words} x={36 + 72 * i} y="67">
        {words}
      </text>
    ))}
  </>
);
