/** The fields of one kind of fact. */
import { fromShown, shownUnit, toShown } from '../format/units.ts';
import { Choice, Stepper, Text, Checkbox } from '../parts/fields.tsx';
import { display } from '../state/session.ts';
import type { FormField, Value, Values } from './forms.ts';

interface FactFieldsProps {
  readonly fields: readonly FormField[];
  readonly value: Values;
  readonly onValue: (value: Values) => void;
}

export function FactFields({ fields, value: values, onValue }: FactFieldsProps) {
  return (
    <>
      {fields.map((field) => (
        <One
          key={field.key}
          field={field}
          value={values[field.key] ?? field.usual}
          onValue={(value) => {
            onValue({ ...values, [field.key]: value });
          }}
        />
      ))}
    </>
  );
}

const quarters = (value: number): string => value.toFixed(2).replace(/\.?0+$/, '');

function One({ field, value, onValue }: { field: FormField; value: Value; onValue: (value: Value) => void }) {
  const common = { label: field.label, ...(field.hint === undefined ? {} : { hint: field.hint }) };
  switch (field.type) {
    case 'count':
      return <Stepper {...common} value={Number(value)} onValue={onValue} most={field.most} />;
    case 'frames':
      return (
        <Stepper {...common} value={Number(value)} onValue={onValue} step={0.25} most={12} words={quarters} />
      );
    case 'amount':
      return <Amount field={field} value={Number(value)} onValue={onValue} />;
    case 'yes':
      return <Checkbox {...common} value={value === true} onValue={onValue} />;
    case 'choice':
      return (
        <Choice
          {...common}
          value={String(value)}
          onValue={onValue}
          options={Object.entries(field.options).map(([key, words]) => ({ value: key, words }))}
        />
      );
    case 'words':
      return <Text {...common} value={String(value)} onValue={onValue} />;
  }
}

interface AmountProps {
  readonly field: Extract<FormField, { type: 'amount' }>;
  readonly value: number;
  readonly onValue: (value: number) => void;
}

/** Counted in the reader's unit, by steps that are round in it; kept in the field's own. */
function Amount({ field, value, onValue }: AmountProps) {
  const unit = shownUnit(field.unit, display.value);
  const own = unit === field.unit;
  const shown = (one: number): number => toShown(one, field.unit, display.value);
  return (
    <Stepper
      label={`${field.label}, ${unit}`}
      {...(field.hint === undefined ? {} : { hint: field.hint })}
      value={own ? value : Number(shown(value).toFixed(2))}
      onValue={(typed) => {
        onValue(own ? typed : fromShown(typed, field.unit, display.value));
      }}
      step={own ? field.step : 0.5}
      most={own ? field.most : Math.floor(shown(field.most))}
      words={quarters}
    />
  );
}
