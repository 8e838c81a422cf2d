/** Where the nucs stand. */
import { useState } from 'preact/hooks';
import type { Site } from '../../server/contract/places.ts';
import { call, newId } from '../api/client.ts';
import { filled, typedNumber } from '../format/typed.ts';
import { fixed } from '../format/units.ts';
import { deviceZone } from '../format/when.ts';
import { ActionOutcome, useAction } from '../parts/action-button.tsx';
import { LongText, NumberText, Select, Text } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import { ResourceView } from '../parts/resource-view.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { nucsChanged, sites } from '../state/farm.ts';
import { loadMe, mayKeep } from '../state/session.ts';

export function Sites() {
  const add = useSheet();
  return (
    <section class="card" aria-label="Sites">
      <h2>Sites</h2>
      <ResourceView of={sites} what="the sites">
        {(data) => (
          <ul class="plain-list">
            {data.items.map((site) => (
              <Row key={site.id} site={site} />
            ))}
          </ul>
        )}
      </ResourceView>
      {mayKeep.value && (
        <button type="button" onClick={add.show}>
          Add a site …
        </button>
      )}
      <Sheet of={add} title="A site">
        <SiteForm done={add.close} />
      </Sheet>
    </section>
  );
}

function Row({ site }: { site: Site }) {
  const change = useSheet();
  return (
    <li>
      <p>
        <b>
          <bdi>{site.name}</bdi>
        </b>{' '}
        <span class="soft">
          {site.timeZone.replaceAll('_', ' ')}, {fixed(site.latDeg, 2)}°, {fixed(site.lonDeg, 2)}°
        </span>
      </p>
      {mayKeep.value && (
        <button type="button" onClick={change.show}>
          Change …<span class="hidden-words"> {site.name}</span>
        </button>
      )}
      <Sheet of={change} title={site.name}>
        <SiteForm site={site} done={change.close} />
      </Sheet>
    </li>
  );
}

const zones = (): readonly string[] => [
  ...new Set([deviceZone(), ...Intl.supportedValuesOf('timeZone'), 'UTC']),
];

export const ZoneSelect = (of: { readonly value: string; readonly onValue: (zone: string) => void }) => (
  <Select
    label="Time zone"
    {...of}
    options={zones().map((each) => ({ value: each, words: each.replaceAll('_', ' ') }))}
  />
);

/** NaN where it is no such angle. */
export const degrees = (text: string, most: number): number => {
  const value = typedNumber(text);
  return Math.abs(value) <= most ? value : Number.NaN;
};

const startOf = (site: Site | undefined) => ({
  name: site?.name ?? '',
  zone: site?.timeZone ?? deviceZone(),
  lat: site ? String(site.latDeg) : '',
  lon: site ? String(site.lonDeg) : '',
  note: site?.note ?? '',
});

function SiteForm({ site, done }: { site?: Site; done: () => void }) {
  const [id] = useState(() => site?.id ?? newId());
  const form = useForm(
    () => startOf(site),
    async ({ name, zone, note }) => {
      const body = { name: name.trim(), timeZone: zone, latDeg, lonDeg, ...filled({ note }) };
      if (site) await call('changeSite', { params: { id }, body });
      else await call('addSite', { body: { ...body, id } });
      await Promise.all([nucsChanged(), loadMe()]);
      done();
    },
  );
  const { values, field } = form;
  const latDeg = degrees(values.lat, 90);
  const lonDeg = degrees(values.lon, 180);
  return (
    <Form of={form}>
      <Text label="Name of the site" {...field('name')} />
      <ZoneSelect {...field('zone')} />
      <UseThisPlace
        onPlace={(lat, lon) => {
          form.set({ lat, lon });
        }}
      />
      <NumberText label="Latitude, degrees" {...field('lat')} hint="north is positive; such as 52.1" />
      <NumberText
        label="Longitude, degrees"
        {...field('lon')}
        hint="east is positive; such as 9.9. A tenth of a degree is near enough for dusk and dawn."
      />
      <LongText label="Note" {...field('note')} rows={2} />
      <Submit of={form} disabled={values.name.trim() === '' || Number.isNaN(latDeg + lonDeg)}>
        {site ? 'Change it' : 'Add the site'}
      </Submit>
    </Form>
  );
}

/** Browsers tell a position only to a page that came over HTTPS or from this machine. */
export function UseThisPlace({ onPlace }: { onPlace: (lat: string, lon: string) => void }) {
  const act = useAction(async () => {
    const { coords } = await position();
    onPlace(coords.latitude.toFixed(2), coords.longitude.toFixed(2));
  });
  if (!isSecureContext || !('geolocation' in navigator)) return null;
  return (
    <span class="act">
      <button type="button" disabled={act.busy} onClick={() => void act.start()}>
        Use this place
      </button>
      <ActionOutcome of={act} />
    </span>
  );
}

const patienceMs = 20_000;

const position = (): Promise<GeolocationPosition> =>
  new Promise((resolve, reject) => {
    navigator.geolocation.getCurrentPosition(
      resolve,
      () => {
        reject(new Error('This device did not tell where it is. Type the position.'));
      },
      { timeout: patienceMs },
    );
  });
