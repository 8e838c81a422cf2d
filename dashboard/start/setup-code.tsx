import { Text } from '../parts/fields.tsx';

interface Props {
  /** What it is for, where another one is asked for beside it. */
  readonly about?: string;
  /** So long after a start it can be done without the code. */
  readonly minutesWithout?: number | undefined;
  readonly value: string;
  readonly onValue: (value: string) => void;
}

export function SetupCode({ about, minutesWithout, value, onValue }: Props) {
  return (
    <Text
      label="Setup code"
      about={about}
      value={value}
      onValue={onValue}
      autocomplete="off"
      maxLength={40}
      hint={
        <>
          The server printed it when it started (in its terminal, or its log), and it is in the file{' '}
          <code>setup-code.txt</code> in its data folder.
          {minutesWithout !== undefined &&
            ` Without the code: turn the server’s box off and on, and open this page again within ${String(minutesWithout)} minutes.`}
        </>
      }
    />
  );
}
