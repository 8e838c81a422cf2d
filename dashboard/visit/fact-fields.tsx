/** The fields of one kind of fact. */
import { Choice, Stepper, Text, Tick } from '../parts/fields.tsx';
import type { FormField, Value, Values } from './forms.ts';

interface FactFieldsProps {
  readonly fields: readonly FormField[];
  readonly values: Values;
  readonly onValues: (values: Values) => void;
}

export function FactFields({ fields, values, onValues }: FactFieldsProps) {
  return (
    <>
      {fields.map((field) => (
        <One
          key={field.key}
          field={field}
          value={values[field.key] ?? field.usual}
          onValue={(value) => {
            onValues({ ...values, [field.key]: value });
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
      return (
        <Stepper
          {...common}
          label={`${field.label}, ${field.unit}`}
          value={Number(value)}
          onValue={onValue}
          step={field.step}
          most={field.most}
          words={quarters}
        />
      );
    case 'yes':
      return <Tick {...common} value={value === true} onValue={onValue} />;
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
