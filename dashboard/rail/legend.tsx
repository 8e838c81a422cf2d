/** How to read a rail, each sign beside its meaning. */
import type { ComponentChildren } from 'preact';
import { useState } from 'preact/hooks';

interface Sign {
  readonly draw: ComponentChildren;
  readonly name: string;
  readonly about: string;
}

const signs: readonly Sign[] = [
  {
    draw: <path class="window rearable-larvae" d="M4 22V4L44 22Z" />,
    name: 'larvae a queen could still be raised from',
    about: 'fewer every day; none is young enough after about day 7',
  },
  {
    draw: (
      <>
        <path class="window virgin-possible" d="M4 22V12H44V22Z" />
        <path class="hatch" d="M4 22L12 12M12 22L20 12M20 22L28 12M28 22L36 12M36 22L44 12" />
      </>
    ),
    name: 'a virgin could be out',
    about: 'if a cell was missed, she could have emerged on these days',
  },
  {
    draw: <path class="window laying-workers" d="M4 22L44 10V22Z" />,
    name: 'workers may begin to lay',
    about: 'after about three weeks without a queen or brood',
  },
  {
    draw: <path class="window sealed-brood" d="M4 6V22L44 6Z" />,
    name: 'brood still to emerge',
    about: 'below the line: it has to be kept warm, and bees come from it',
  },
  {
    draw: <path class="bar caged" d="M4 14H44" stroke-width="5" />,
    name: 'queen caged',
    about: 'dashed: planned',
  },
  {
    draw: <path class="bar hands-off" d="M4 8H44M4 20H44" />,
    name: 'hands off',
    about: 'from the day she is let out: a look inside now can get her killed; dashed: planned',
  },
  { draw: <path class="bar laying" d="M4 14H44" stroke-width="4" />, name: 'eggs seen', about: 'she lays' },
  {
    draw: (
      <>
        <circle class="visit done" cx="8" cy="14" r="5.5" />
        <circle class="visit planned" cx="24" cy="14" r="5.5" />
        <circle class="visit due" cx="40" cy="14" r="5.5" />
        <circle class="visit-dot" cx="40" cy="14" r="2.2" />
      </>
    ),
    name: 'visits: done, planned, due',
    about: 'an overdue one is a diamond',
  },
  { draw: <path class="today" d="M24 2V26" />, name: 'today', about: 'by the clock of the site' },
];

export function Legend({ inWords = '' }: { inWords?: string }) {
  const [open, setOpen] = useState(false);
  return (
    <details
      class="legend"
      onToggle={(event) => {
        setOpen(event.currentTarget.open);
      }}
    >
      <summary>How to read the rail</summary>
      {open && inWords !== '' && <p class="rail-words">{inWords}</p>}
      {open && <Signs />}
    </details>
  );
}

function Signs() {
  return (
    <>
      <p>
        Day 0 is the split, or the first entry where there was none. Above the line lies what could become
        another queen, on the line her cage, below it the brood.
      </p>
      <ul>
        {signs.map((sign) => (
          <li key={sign.name}>
            <svg class="rail" width="48" height="28" aria-hidden="true">
              {sign.draw}
            </svg>
            <span>
              <b>{sign.name}</b>
              <br />
              {sign.about}
            </span>
          </li>
        ))}
      </ul>
    </>
  );
}
