import { Text } from '../parts/fields.tsx';

interface Props {
  readonly value: string;
  readonly onValue: (value: string) => void;
}

export function SetupCode({ value, onValue }: Props) {
  return (
    <Text
      label="Setup code"
      value={value}
      onValue={onValue}
      autocomplete="off"
      maxLength={40}
      hint={
        <>
          The server printed it when it started (in its terminal, or its log), and it is in the file{' '}
          <code>setup-code.txt</code> in its data folder.
        </>
      }
    />
  );
}
