/** Cells by kind: for one nuc with large counters, for several a line of them each. "No cells" is an answer of its own. */
import { Stepper } from '../parts/fields.tsx';
import type { ValueChanges } from './draft.ts';
import { CellDrawing } from './drawings.tsx';
import type { FormField, Value, Values } from './forms/fields.ts';
import type { RememberedNuc } from './remembered-nucs.ts';

interface CellCountsProps {
  readonly fields: readonly FormField[];
  readonly nucs: readonly RememberedNuc[];
  readonly valuesOf: (one: RememberedNuc) => Values;
  readonly onChange: (changes: readonly Change[]) => void;
}
interface Change {
  readonly nucId: string;
  readonly values: ValueChanges;
}

const numberOf = (value: Value | undefined): number | undefined =>
  typeof value === 'number' ? value : undefined;

export function CellCounts({ fields, nucs, valuesOf, onChange }: CellCountsProps) {
  const [only, ...others] = nucs;
  const values = nucs.map(valuesOf);
  const counted = values.some((of) => fields.some(({ key }) => of[key] !== undefined));
  const open = values.some((of) => fields.some(({ key }) => of[key] === undefined));
  const noOthers = (): void => {
    onChange(
      nucs.map((one) => {
        const before = valuesOf(one);
        const rest = fields.filter(({ key }) => before[key] === undefined);
        return { nucId: one.id, values: Object.fromEntries(rest.map(({ key }) => [key, 0])) };
      }),
    );
  };
  return (
    <div class="cell-counts">
      <CellDrawing />
      {only && others.length === 0
        ? fields.map((field) => (
            <Stepper
              key={field.key}
              label={field.label}
              {...(field.hint === undefined ? {} : { hint: field.hint })}
              value={numberOf(values[0]?.[field.key])}
              onValue={(value) => {
                onChange([{ nucId: only.id, values: { [field.key]: value } }]);
              }}
              onClear={() => {
                onChange([{ nucId: only.id, values: { [field.key]: undefined } }]);
              }}
              most={200}
            />
          ))
        : nucs.map((one) => (
            <Line
              key={one.id}
              one={one}
              fields={fields}
              values={valuesOf(one)}
              onChange={(change) => {
                onChange([{ nucId: one.id, values: change }]);
              }}
            />
          ))}
      {open && (
        <button type="button" class="no-cells" onClick={noOthers}>
          {counted ? 'No others' : 'No cells'}
        </button>
      )}
    </div>
  );
}

interface LineProps {
  readonly one: RememberedNuc;
  readonly fields: readonly FormField[];
  readonly values: Values;
  readonly onChange: (change: Values) => void;
}

/** Each press counts one more; the last button of the line starts it again. */
function Line({ one, fields, values, onChange }: LineProps) {
  const counted = fields.some(({ key }) => values[key] !== undefined);
  return (
    <div class="cell-line" role="group" aria-label={`Cells in ${one.name}`}>
      <b>
        <bdi>{one.name}</bdi>
      </b>
      {fields.map(({ key, label }) => {
        const count = numberOf(values[key]);
        const kind = label.replace(/ cells$/, '').toLowerCase();
        return (
          <button
            key={key}
            type="button"
            aria-label={`${one.name}, one more ${kind} cell: ${count === undefined ? 'not counted' : String(count)}`}
            onClick={() => {
              onChange({ [key]: Math.min(200, (count ?? 0) + 1) });
            }}
          >
            <span class="count">{count ?? '–'}</span>
            <span class="kind">{kind}</span>
          </button>
        );
      })}
      <button
        type="button"
        class="plain"
        aria-label={`${one.name}: set its cells to none`}
        disabled={!counted}
        onClick={() => {
          onChange(Object.fromEntries(fields.map(({ key }) => [key, 0])));
        }}
      >
        0
      </button>
    </div>
  );
}
