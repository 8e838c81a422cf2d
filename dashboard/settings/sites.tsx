/** Where the nucs stand. */
import { useState } from 'preact/hooks';
import type { Site } from '../../server/contract/places.ts';
import { call } from '../api/client.ts';
import { deviceZone } from '../format/when.ts';
import { Act } from '../parts/act.tsx';
import { LongText, Pick, Text } from '../parts/fields.tsx';
import { Shown } from '../parts/shown.tsx';
import { Sheet, useSheet } from '../parts/sheet.tsx';
import { nucs, sites } from '../state/farm.ts';
import { loadMe, mayKeep } from '../state/session.ts';
import { newId } from '../visit/new-id.ts';

export function Sites() {
  const add = useSheet();
  return (
    <section class="card" aria-label="Sites">
      <h2>Sites</h2>
      <Shown of={sites} what="the sites">
        {(data) => (
          <ul class="plain-list">
            {data.items.map((site) => (
              <Row key={site.id} site={site} />
            ))}
          </ul>
        )}
      </Shown>
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
          {site.timeZone.replaceAll('_', ' ')}, {site.latDeg.toFixed(2)}°, {site.lonDeg.toFixed(2)}°
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

const degrees = (text: string, most: number): number | undefined => {
  const value = Number(text.replace(',', '.'));
  return text.trim() !== '' && Number.isFinite(value) && Math.abs(value) <= most ? value : undefined;
};

export function SiteForm({ site, done }: { site?: Site; done: () => void }) {
  const [id] = useState(() => site?.id ?? newId());
  const [name, setName] = useState(site?.name ?? '');
  const [zone, setZone] = useState(site?.timeZone ?? deviceZone());
  const [lat, setLat] = useState(site ? String(site.latDeg) : '');
  const [lon, setLon] = useState(site ? String(site.lonDeg) : '');
  const [note, setNote] = useState(site?.note ?? '');
  const latDeg = degrees(lat, 90);
  const lonDeg = degrees(lon, 180);
  const save = async (): Promise<void> => {
    if (latDeg === undefined || lonDeg === undefined) return;
    const body = {
      name: name.trim(),
      timeZone: zone,
      latDeg,
      lonDeg,
      ...(note.trim() === '' ? {} : { note: note.trim() }),
    };
    if (site) await call('changeSite', { params: { id }, body });
    else await call('addSite', { body: { ...body, id } });
    await Promise.all([sites.reload(), nucs.reload(), loadMe()]);
    done();
  };
  return (
    <>
      <Text label="Name of the site" value={name} onValue={setName} />
      <Pick
        label="Time zone"
        value={zone}
        onValue={setZone}
        options={zones().map((each) => ({ value: each, words: each.replaceAll('_', ' ') }))}
      />
      <Text label="Latitude, degrees" value={lat} onValue={setLat} hint="north is positive; such as 52.1" />
      <Text
        label="Longitude, degrees"
        value={lon}
        onValue={setLon}
        hint="east is positive; such as 9.9. Dusk and dawn are worked out from these; a tenth of a degree is near enough."
      />
      <LongText label="Note" value={note} onValue={setNote} rows={2} />
      <Act main run={save} disabled={name.trim() === '' || latDeg === undefined || lonDeg === undefined}>
        {site ? 'Change it' : 'Add the site'}
      </Act>
    </>
  );
}
