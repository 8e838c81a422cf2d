/** An earlier server's records, brought back into this empty one instead of beginning anew. */
import { useId, useState } from 'preact/hooks';
import type { ResponseOf } from '../../server/contract/index.ts';
import { call, sendFile } from '../api/client.ts';
import { bytes } from '../format/units.ts';
import { dayAndTime, deviceZone } from '../format/when.ts';
import { ActionButton } from '../parts/action-button.tsx';
import { ResourceView } from '../parts/resource-view.tsx';
import { serverMinute } from '../state/live.ts';
import { resource } from '../state/resource.ts';
import { BackupContents } from './backup-contents.tsx';
import { me } from '../state/session.ts';
import { SetupCode } from './setup-code.tsx';

const restorable = resource(() => call('listRestorable', {}));
const wait = (ms: number): Promise<void> =>
  new Promise((resolve) => {
    setTimeout(resolve, ms);
  });

/** The server goes away and comes back with other records: the page begins anew with it. */
async function beginAnew(): Promise<void> {
  for (let tries = 0; tries < 120; tries += 1) {
    await wait(2000);
    if (await answers()) break;
  }
  location.hash = '';
  location.reload();
}

const answers = (): Promise<boolean> =>
  call('me', {}, 5000).then(
    () => true,
    () => false,
  );

export function FromBackup() {
  return (
    <details class="card">
      <summary>Bring back a backup instead</summary>
      <p>
        The backup is checked first, and you see whom it lets in and where it sends notifications. Only then
        does this server start again with it: sign in with the name and password that were in use when it was
        made. What is here now is kept aside on the disk.
      </p>
      <ResourceView of={restorable} what="the backups">
        {(data) => (data.possible ? <Choices data={data} /> : <p>{data.why}</p>)}
      </ResourceView>
    </details>
  );
}

type Summary = ResponseOf<'lookAtBackup'>;

function Choices({ data }: { data: ResponseOf<'listRestorable'> }) {
  const [looked, setLooked] = useState<Summary | null>(null);
  const [code, setCode] = useState('');
  // A backup brings its people along: until there is a password, only who has the code may do that.
  const needsCode = me.value?.passwordSet === false;
  const lacksCode = needsCode && code.trim() === '';
  const withCode: { readonly code?: string } = needsCode ? { code: code.trim() } : {};
  if (looked) {
    return (
      <BackupContents of={looked}>
        <ActionButton
          main
          done="Brought back. The server starts again."
          run={async () => {
            await call('restoreBackup', { body: { file: looked.file, ...withCode } }, 300_000);
            await beginAnew();
          }}
        >
          Bring it back
        </ActionButton>
        <button
          type="button"
          onClick={() => {
            setLooked(null);
          }}
        >
          Choose another
        </button>
      </BackupContents>
    );
  }
  return (
    <>
      {needsCode && <SetupCode about="for the backup" value={code} onValue={setCode} />}
      {data.problem !== undefined && <p class="notice">{data.problem}</p>}
      {data.items.length === 0 && data.problem === undefined && (
        <p>
          There is none in <code>{data.folder}</code> on the server.
        </p>
      )}
      <ul class="plain">
        {data.items.map(({ file, bytes: size, at }) => (
          <li key={file} class="row-acts">
            <span>
              {dayAndTime(Date.parse(at), deviceZone(), serverMinute.value)}, {bytes(size)}
            </span>
            <ActionButton
              disabled={lacksCode}
              run={async () => {
                setLooked(await call('lookAtBackup', { body: { file, ...withCode } }, 300_000));
              }}
            >
              Check {file}
            </ActionButton>
          </li>
        ))}
      </ul>
      <OwnFile disabled={lacksCode} code={withCode.code} onLooked={setLooked} />
    </>
  );
}

interface OwnFileProps {
  readonly disabled: boolean;
  readonly code: string | undefined;
  readonly onLooked: (summary: Summary) => void;
}

function OwnFile({ disabled, code, onLooked }: OwnFileProps) {
  const [chosen, setChosen] = useState<File | null>(null);
  const id = useId();
  return (
    <>
      <div class="field">
        <label for={id}>Or a backup on this device</label>
        <input
          id={id}
          type="file"
          accept=".sqlite,.db"
          onChange={({ currentTarget }) => {
            setChosen(currentTarget.files?.[0] ?? null);
          }}
        />
      </div>
      <ActionButton
        disabled={!chosen || disabled}
        run={async () => {
          if (!chosen) return;
          const headers = code === undefined ? {} : { 'X-Setup-Code': code };
          const type = 'application/vnd.sqlite3';
          onLooked((await sendFile('/restore/uploads', type, chosen, headers)) as Summary);
        }}
      >
        Send it and check it
      </ActionButton>
    </>
  );
}
