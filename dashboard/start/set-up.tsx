/** The first form: a password where there is none yet, and where the nucs stand. */
import { useState } from 'preact/hooks';
import { call, newId } from '../api/client.ts';
import { deviceZone } from '../format/when.ts';
import { NumberText, Text } from '../parts/fields.tsx';
import { Form, Submit, useForm, type FormState } from '../parts/form.tsx';
import { degrees, UseThisPlace, ZoneSelect } from '../settings/sites.tsx';
import { nucsChanged } from '../state/farm.ts';
import { loadMe, me, takeMe } from '../state/session.ts';
import { SetupCode } from './setup-code.tsx';
import { roughPlace } from './zone-places.ts';

const least = 10;

const blank = () => ({
  name: 'Keeper',
  password: '',
  code: '',
  site: 'Home',
  zone: deviceZone(),
  lat: '',
  lon: '',
});
type Part = { readonly form: FormState<ReturnType<typeof blank>> };

export function SetUp() {
  const [id] = useState(newId);
  const needsPassword = me.value?.passwordSet === false;
  const needsCode = me.value?.withoutCode?.open !== true;
  const needsSite = me.value?.setUp.site === false;
  const form = useForm(blank, async ({ name, password, code, site, zone }) => {
    if (me.peek()?.passwordSet === false)
      try {
        takeMe(await call('setPassword', { body: { name: name.trim(), password, code: code.trim() } }));
      } catch (trouble) {
        // The minutes without a code may be over: the field for it is shown.
        await loadMe();
        throw trouble;
      }
    // Only now does the server say whether there is a site already, such as from a backup.
    if (!place || me.peek()?.setUp.site === true) return;
    await call('addSite', {
      body: {
        id,
        name: site.trim(),
        timeZone: zone,
        ...place,
        ...(isTyped ? {} : { note: 'Position: the main city of its time zone. Set your own.' }),
      },
    });
    await Promise.all([nucsChanged(), loadMe()]);
  });
  const { values } = form;
  const isTyped = values.lat.trim() !== '' || values.lon.trim() !== '';
  const typed = { latDeg: degrees(values.lat, 90), lonDeg: degrees(values.lon, 180) };
  const place = isTyped ? typed : roughPlace(values.zone);
  const isPlaced = place !== undefined && !Number.isNaN(place.latDeg + place.lonDeg);
  const missing = [
    needsPassword && values.name.trim() === '' && 'your name',
    needsPassword && values.password.length < least && 'a password',
    needsPassword && needsCode && values.code.trim() === '' && 'the setup code',
    needsSite && values.site.trim() === '' && 'a name for the site',
    needsSite && !isPlaced && 'its position',
  ].filter((one) => one !== false);
  return (
    <Form of={form}>
      {needsPassword && <PasswordFields form={form} needsCode={needsCode} />}
      {needsSite && <SiteFields form={form} />}
      {missing.length > 0 && <p class="soft">Still missing: {missing.join(', ')}.</p>}
      <Submit of={form} disabled={missing.length > 0}>
        {needsPassword ? 'Set up' : 'Add the site'}
      </Submit>
    </Form>
  );
}

function PasswordFields({ form: { field }, needsCode }: Part & { readonly needsCode: boolean }) {
  return (
    <>
      <p>
        {needsCode
          ? 'Nothing else works until there is a password.'
          : 'Set it now: until then, anybody on this network could.'}{' '}
        It can’t be read back: write it down.
      </p>
      <Text label="Your name" {...field('name')} autocomplete="username" />
      <Text
        label="Password"
        type="password"
        {...field('password')}
        autocomplete="new-password"
        hint="at least 10 characters; three or four words that do not belong together are good"
      />
      {needsCode && <SetupCode {...field('code')} minutesWithout={me.value?.withoutCode?.minutes} />}
    </>
  );
}

function SiteFields({ form: { field, set } }: Part) {
  return (
    <>
      <Text label="Name of the site" {...field('site')} />
      <UseThisPlace
        onPlace={(lat, lon) => {
          set({ lat, lon });
        }}
      />
      <details open={!roughPlace(deviceZone())}>
        <summary>Position and time zone</summary>
        <p class="soft">
          Dusk, dawn and the forecast need a position. Without one, the main city of the time zone is taken;
          you can change it under Settings.
        </p>
        <NumberText label="Latitude, degrees" {...field('lat')} hint="north is positive; such as 52.1" />
        <NumberText label="Longitude, degrees" {...field('lon')} hint="east is positive; such as 9.9" />
        <ZoneSelect {...field('zone')} />
      </details>
    </>
  );
}
