/** One channel: what it is, its newest reading and age, how it does, where it stands. */
import type { Channel } from '../../server/contract/sensors.ts';
import { age, dayAndTime, deviceZone } from '../format/when.ts';
import { count, fixed, newest, reading } from '../format/units.ts';
import { serverNow } from '../state/live.ts';
import { display, mayKeep } from '../state/session.ts';
import { healthWords, placeWords } from '../words/labels.ts';
import { useSheet } from '../parts/sheet.tsx';
import { AssignSheet } from './assign-sheet.tsx';
import { CalibrationSheet } from './calibration-sheet.tsx';
import { channelName, sensorName } from './channel-name.ts';
import { UnitSheet } from './unit-sheet.tsx';
import { unitsOf } from './sent-units.ts';
import { ForgetAssigned, ForgetSheet } from './forget-sheet.tsx';

const capital = (words: string): string => words.slice(0, 1).toLocaleUpperCase() + words.slice(1);

export function ChannelRow({ channel }: { channel: Channel }) {
  const { assignment, health } = channel;
  if (!assignment) {
    return (
      <li class={`channel ${health}`}>
        <p class="channel-name">
          <b>
            <bdi>{channelName(channel)}</bdi>
          </b>
          <Newest channel={channel} />
        </p>
        <ChannelBody channel={channel} />
      </li>
    );
  }
  return (
    <li class={`channel ${health}`}>
      <details>
        <summary>
          <span class="channel-name">
            <span>
              <b>{placeWords[assignment.place]}</b> <bdi class="soft">{sensorName(channel)}</bdi>
            </span>
            <Newest channel={channel} />
          </span>
        </summary>
        <ChannelBody channel={channel} />
      </details>
    </li>
  );
}

function Newest({ channel: { latest, health, rawCounts } }: { channel: Channel }) {
  return (
    <span>
      {latest ? (
        <>
          <b class="value">
            {rawCounts === null ? newest(latest, display.value) : reading(rawCounts, 'counts', display.value)}
          </b>{' '}
          <span class="soft">
            {age(serverNow.value - Date.parse(latest.time))} ago
            {latest.suspect && !latest.impossible && rawCounts === null ? ', suspect' : ''}
          </span>
        </>
      ) : (
        <span class="soft">no reading yet</span>
      )}
      {health !== 'fresh' && <span class="health"> {healthWords[health]}</span>}
    </span>
  );
}

function ChannelBody({ channel }: { channel: Channel }) {
  const assign = useSheet();
  const calibrate = useSheet();
  const forget = useSheet();
  const unit = useSheet();
  const { assignment } = channel;
  return (
    <div class="channel-body">
      <p class="soft">
        {assignment ? (
          <>
            {channelName(channel)}
            {channel.name !== null && ` (${channel.sensor})`}, here since{' '}
            {dayAndTime(Date.parse(assignment.from), deviceZone(), serverNow.value)}.
          </>
        ) : (
          <>
            Not assigned: its readings are kept and wait.
            {channel.name !== null && ` It sends as ${channel.sensor}.`}
          </>
        )}{' '}
        {capital(channel.healthText)}
        {channel.suspects24h > 0 && `; ${count(channel.suspects24h, 'suspect reading')} in 24 h`}.
        {channel.latest?.impossible &&
          ` It sent ${fixed(channel.latest.value, 0)}, which can’t be true: a broken sensor, or another unit.`}
        {channel.rawCounts !== null &&
          ' It sends raw counts, which become a weight when you calibrate it by a known weight.'}
      </p>
      {mayKeep.value && (
        <p class="row-acts">
          <button type="button" class={assignment ? '' : 'main'} onClick={assign.show}>
            {assignment ? 'Move …' : 'Assign …'}
            <span class="hidden-words"> {channelName(channel)}</span>
          </button>
          <button type="button" onClick={calibrate.show}>
            Calibrate …<span class="hidden-words"> {channelName(channel)}</span>
          </button>
          {unitsOf(channel).length > 0 && (
            <button type="button" onClick={unit.show}>
              Unit …<span class="hidden-words"> {channelName(channel)}</span>
            </button>
          )}
          <button type="button" onClick={forget.show}>
            Forget …<span class="hidden-words"> {channelName(channel)}</span>
          </button>
        </p>
      )}
      <AssignSheet of={assign} channel={channel} />
      <CalibrationSheet of={calibrate} channel={channel} />
      <UnitSheet of={unit} channel={channel} />
      {assignment ? (
        <ForgetAssigned of={forget} channel={channel} assignment={assignment} />
      ) : (
        <ForgetSheet of={forget} channels={[channel]} />
      )}
    </div>
  );
}
