/** "This is grams": the unit that a channel sends, from a day on. */
import type { Channel } from '../../server/contract/sensors.ts';
import { call } from '../api/client.ts';
import { isoAt, localDate } from '../format/calendar.ts';
import { deviceZone } from '../format/when.ts';
import { Choice, Text } from '../parts/fields.tsx';
import { Form, Submit, useForm } from '../parts/form.tsx';
import type { SheetState } from '../parts/sheet.tsx';
import { Sheet } from '../parts/sheet.tsx';
import { channelsChanged, nucsChanged } from '../state/farm.ts';
import { serverNow } from '../state/live.ts';
import { channelName } from './channel-name.ts';
import { unitCalibration, unitsOf } from './sent-units.ts';

export function UnitSheet({ of, channel }: { of: SheetState; channel: Channel }) {
  return (
    <Sheet of={of} title={`What does ${channelName(channel)} send?`}>
      <UnitForm channel={channel} done={of.close} />
    </Sheet>
  );
}

function UnitForm({ channel, done }: { channel: Channel; done: () => void }) {
  const units = unitsOf(channel);
  const form = useForm(
    () => ({ unit: units[0]?.id ?? '', day: localDate(serverNow.peek(), deviceZone()) }),
    async ({ unit, day }) => {
      const one = units.find(({ id }) => id === unit);
      if (!one) return;
      const body = unitCalibration(one, Date.parse(isoAt(day, '00:00', deviceZone())));
      await call('addCalibration', { params: { id: channel.id }, body });
      await Promise.all([channelsChanged(), nucsChanged()]);
      done();
    },
  );
  return (
    <Form of={form}>
      <Choice
        label="This is"
        {...form.field('unit')}
        options={units.map(({ id, words }) => ({ value: id, words }))}
      />
      <Text
        type="date"
        label="From this day on"
        {...form.field('day')}
        hint="It takes the place of an earlier calibration from then on."
      />
      <Submit of={form}>Apply it</Submit>
    </Form>
  );
}
