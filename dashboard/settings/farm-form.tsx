/** Units, the release limit, forecast, keeping. */
import { useState } from 'preact/hooks';
import type { FarmKey, FarmSettings } from '../../server/contract/settings.ts';
import { call } from '../api/client.ts';
import { Act } from '../parts/act.tsx';
import { Choice, Stepper, Text, Tick } from '../parts/fields.tsx';
import { nucs } from '../state/farm.ts';
import { loadMe, me } from '../state/session.ts';

export function FarmForm() {
  const now = me.value?.farm;
  return now ? <Form start={now} /> : null;
}

function Form({ start }: { start: FarmSettings }) {
  const [farm, setFarm] = useState(start);
  const [putRight, setPutRight] = useState<readonly FarmKey[]>([]);
  const unreadable = (Object.keys(start) as FarmKey[]).filter((key) =>
    me.value?.settingFaults?.some(({ name }) => name === `farm.${key}`),
  );
  const set = (change: Partial<FarmSettings>): void => {
    setFarm({ ...farm, ...change });
  };
  return (
    <section class="card" aria-label="Farm">
      <h2>Farm</h2>
      <Text
        label="Name"
        value={farm.farmName}
        onValue={(farmName) => {
          set({ farmName });
        }}
      />
      <Choice
        label="Temperatures in"
        value={farm.display.temperature}
        onValue={(value) => {
          set({ display: { ...farm.display, temperature: value as 'C' | 'F' } });
        }}
        options={[
          { value: 'C', words: '°C' },
          { value: 'F', words: '°F' },
        ]}
      />
      <Choice
        label="Weights in"
        value={farm.display.weight}
        onValue={(value) => {
          set({ display: { ...farm.display, weight: value as 'kg' | 'lb' } });
        }}
        options={[
          { value: 'kg', words: 'kg' },
          { value: 'lb', words: 'lb' },
        ]}
      />
      <Stepper
        label="Chance of a standing cell at which the queen may be let out, %"
        hint="Standard 5. Lower asks for more looks; higher risks more queens."
        value={Math.round(farm.standingCellLimit * 1000) / 10}
        onValue={(percent) => {
          set({ standingCellLimit: percent / 100 });
        }}
        step={0.5}
        least={0.5}
        most={50}
      />
      <Text
        label="Address of a forecast"
        type="url"
        value={farm.forecastUrl}
        onValue={(forecastUrl) => {
          set({ forecastUrl });
        }}
        hint="JSON array of hours with time and temperature in °C, also wind, rain, cloud; {lat} and {lon} stand for the site. Empty: nobody is asked, and what is published on welcomb/$forecast or else the last nights are taken instead"
      />
      <Text
        label="Heartbeat address"
        type="url"
        value={farm.heartbeatUrl}
        onValue={(heartbeatUrl) => {
          set({ heartbeatUrl });
        }}
        hint="called regularly, so that somebody else notices when this server is dead; once saved, only its host is shown"
      />
      <Text
        label="Folder for backups"
        value={farm.backupFolder}
        onValue={(backupFolder) => {
          set({ backupFolder });
        }}
        hint="on the server; better on another disk. Empty: beside the data"
      />
      <Stepper
        label="Backups kept"
        value={farm.backupKeep}
        onValue={(backupKeep) => {
          set({ backupKeep });
        }}
        least={1}
        most={365}
      />
      <Stepper
        label="Years of single readings kept"
        hint="Hours and days are kept for ever."
        value={Math.round((farm.rawKeepDays / 365) * 2) / 2}
        onValue={(years) => {
          set({ rawKeepDays: Math.max(30, Math.round(years * 365)) });
        }}
        step={0.5}
        least={0.5}
        most={50}
      />
      {unreadable.map((key) => (
        <Tick
          key={key}
          label={`Replace the stored ${key}, which can’t be read, by what stands above`}
          value={putRight.includes(key)}
          onValue={(on) => {
            setPutRight([...putRight.filter((one) => one !== key), ...(on ? [key] : [])]);
          }}
        />
      ))}
      <Act
        main
        done="Kept."
        run={async () => {
          await call('putFarm', { body: { ...farm, putRight: [...putRight] } });
          setPutRight([]);
          await Promise.all([loadMe(), nucs.reload()]);
        }}
      >
        Keep these
      </Act>
    </section>
  );
}
