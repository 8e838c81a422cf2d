/** Units, the release limit, forecast, keeping. */
import type { FarmKey, FarmSettings } from '../../server/contract/settings.ts';
import { useState } from 'preact/hooks';
import { call } from '../api/client.ts';
import { localeStyle } from '../format/date-style.ts';
import { Choice, Stepper, Text, Checkbox, optionsOf } from '../parts/fields.tsx';
import { Form, Submit, useForm, type FormState } from '../parts/form.tsx';
import { nucsChanged } from '../state/farm.ts';
import { loadMe, me } from '../state/session.ts';

export function FarmForm() {
  const now = me.value?.farm;
  return now ? <Fields start={now} /> : null;
}

type Values = FarmSettings & { putRight: FarmKey[] };
type Part = { readonly form: FormState<Values> };

const temperatures = { C: '°C', F: '°F' } as const;
const clocks = { full: '16:05', twelve: '4:05 pm' } as const;
const dateOrders = { 'day-month': 'Fri 28 May', 'month-day': 'Fri May 28' } as const;
const weights = { kg: 'kg', lb: 'lb' } as const;

function Fields({ start }: { start: FarmSettings }) {
  const [read, setRead] = useState(start);
  const form = useForm(
    { ...start, putRight: [] } as Values,
    async (values) => {
      const kept = await call('putFarm', { body: { ...values, read } });
      setRead(kept);
      form.set({ ...kept, putRight: [] });
      await Promise.all([loadMe(), nucsChanged()]);
    },
    { saved: 'Kept.' },
  );
  const { values, field, set } = form;
  return (
    <section class="card" aria-label="Farm">
      <h2>Farm</h2>
      <Form of={form}>
        <Text label="Name" {...field('farmName')} />
        <Units form={form} />
        <Stepper
          label="Let the queen out when a rival is less likely than, %"
          hint="Default 5. Lower asks for more looks; higher risks more queens."
          value={Math.round(values.standingCellLimit * 1000) / 10}
          onValue={(percent) => {
            set({ standingCellLimit: percent / 100 });
          }}
          step={0.5}
          least={0.5}
          most={50}
        />
        <Addresses form={form} />
        <Keeping form={form} />
        <Unreadable form={form} />
        <Submit of={form}>Keep these</Submit>
      </Form>
    </section>
  );
}

function Units({ form: { values, set } }: Part) {
  const { display } = values;
  return (
    <>
      <Choice
        label="Temperatures in"
        value={display.temperature}
        onValue={(temperature) => {
          set({ display: { ...display, temperature } });
        }}
        options={optionsOf(temperatures)}
      />
      <Choice
        label="Weights in"
        value={display.weight}
        onValue={(weight) => {
          set({ display: { ...display, weight } });
        }}
        options={optionsOf(weights)}
      />
      <Choice
        label="Clock"
        value={display.hours === 12 ? 'twelve' : 'full'}
        onValue={(hours) => {
          set({ display: { ...display, hours: hours === 'twelve' ? 12 : 24 } });
        }}
        options={optionsOf(clocks)}
      />
      <Choice
        label="Dates"
        value={display.dateOrder}
        onValue={(dateOrder) => {
          set({ display: { ...display, dateOrder } });
        }}
        options={optionsOf(dateOrders)}
      />
      <button
        type="button"
        onClick={() => {
          set({ display: { ...display, ...localeStyle() } });
        }}
      >
        Clock and dates as on this device
      </button>
    </>
  );
}

function Addresses({ form: { field } }: Part) {
  return (
    <>
      <Text
        label="Address of a forecast"
        type="url"
        {...field('forecastUrl')}
        hint="Its answer: a JSON array of hours with time and temperature in °C. {lat} and {lon} stand for the site. Empty: no forecast is fetched."
      />
      <Text
        label="Address of this page"
        type="url"
        {...field('publicAddress')}
        hint="as you open it on the phone, with https in front. Mails then link to the nuc; push services are given it as contact."
      />
      <Text
        label="Heartbeat address"
        type="url"
        {...field('heartbeatUrl')}
        hint="Called regularly, so that another service notices when this server stops. Once saved, only its host is shown."
      />
    </>
  );
}

function Keeping({ form: { values, field, set } }: Part) {
  return (
    <>
      <Text
        label="Folder for backups"
        {...field('backupFolder')}
        hint="on the server; better on another disk. Empty: beside the data"
      />
      <Stepper label="Backups kept" {...field('backupKeep')} least={1} most={365} />
      <Stepper
        label="Years of single readings kept"
        hint="Hours and days are kept for ever."
        value={Math.round((values.rawKeepDays / 365) * 2) / 2}
        onValue={(years) => {
          set({ rawKeepDays: Math.max(30, Math.round(years * 365)) });
        }}
        step={0.5}
        least={0.5}
        most={50}
      />
    </>
  );
}

function Unreadable({ form: { values, set } }: Part) {
  const unreadable = (Object.keys(values) as (keyof Values)[]).filter(
    (key): key is FarmKey => me.value?.settingFaults?.some(({ name }) => name === `farm.${key}`) === true,
  );
  return (
    <>
      {unreadable.map((key) => (
        <Checkbox
          key={key}
          label={`Replace the stored ${key}, which can’t be read, by what stands above`}
          value={values.putRight.includes(key)}
          onValue={(on) => {
            const others = values.putRight.filter((one) => one !== key);
            set({ putRight: on ? [...others, key] : others });
          }}
        />
      ))}
    </>
  );
}
