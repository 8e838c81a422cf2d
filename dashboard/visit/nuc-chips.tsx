/** Which nucs the same entry is for: those of the site, ticked where it is. */
import { useState } from 'preact/hooks';
import type { RememberedNuc } from './remembered-nucs.ts';

interface NucChipsProps {
  /** Those that it can be for. */
  readonly all: readonly RememberedNuc[];
  /** Those in sight at once. */
  readonly first: ReadonlySet<string>;
  readonly chosen: ReadonlySet<string>;
  readonly onChosen: (chosen: ReadonlySet<string>) => void;
}

export function NucChips({ all, first, chosen, onChosen }: NucChipsProps) {
  const [more, setMore] = useState(false);
  if (all.length < 2) return null;
  const shown = more ? all : all.filter(({ id }) => first.has(id) || chosen.has(id));
  const hidden = all.length - shown.length;
  return (
    <fieldset class="nuc-chips">
      <legend>
        Same entry for <span class="soft">{`${String(chosen.size)} of ${String(all.length)}`}</span>
      </legend>
      {shown.map((one) => (
        <label key={one.id} class={chosen.has(one.id) ? 'chosen' : ''}>
          <input
            type="checkbox"
            checked={chosen.has(one.id)}
            onChange={(event) => {
              const next = new Set(chosen);
              if (event.currentTarget.checked) next.add(one.id);
              else next.delete(one.id);
              onChosen(next);
            }}
          />
          <bdi>{one.name}</bdi>
        </label>
      ))}
      {hidden > 0 && (
        <button
          type="button"
          onClick={() => {
            setMore(true);
          }}
        >
          {hidden} more …
        </button>
      )}
      {shown.length > 2 && chosen.size < shown.length && (
        <button
          type="button"
          onClick={() => {
            onChosen(new Set(shown.map(({ id }) => id)));
          }}
        >
          All {shown.length}
        </button>
      )}
    </fieldset>
  );
}
