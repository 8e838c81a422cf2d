/** What a home hub sees: a retained state a nuc, and discovery messages that need no set-up. */
import { describe, expect, it } from 'vitest';
import { presence } from '../../ingest/decode/own-topics.ts';
import {
  discoveryOf,
  mqttSender,
  retainedMessages,
  stateOf,
  withdrawalOf,
  type Publication,
} from '../../server/notify/mqtt.ts';
import { delivery, effect, nuc, raisedAlert, recipient } from './made-up.ts';

const hub = { id: 'n1', name: 'Nuc 1', siteName: 'Hill', timeZone: 'Europe/Berlin', stage: 'caged, day 8' };
const { display } = recipient();

describe('the state of a nuc', () => {
  it('names the most pressing of its own open alerts', () => {
    const alerts = [
      raisedAlert(effect('raised', { ruleId: 'stores-low', urgency: 'next-visit' })),
      raisedAlert(effect('raised')),
      raisedAlert(effect('raised', { subject: nuc(2) })),
    ];
    const state = stateOf('welcomb-status', hub, alerts, display);
    expect(state).toMatchObject({ topic: 'welcomb-status/nucs/n1', qos: 1, retain: true });
    expect(JSON.parse(state.payload)).toMatchObject({
      needs: 'now',
      todo: 'Warm it now.',
      alerts: [{ urgency: 'now' }, { urgency: 'next-visit' }],
    });
  });

  it('needs nothing when nothing is open', () => {
    expect(JSON.parse(stateOf('w', hub, [], display).payload)).toMatchObject({
      needs: 'nothing',
      todo: '',
      alerts: [],
    });
  });
});

describe('discovery', () => {
  it('gives each entity an id of its own, the state topic and the availability topic', () => {
    const messages = discoveryOf('w', 'hub', hub);
    expect(messages.map(({ topic }) => topic)).toEqual([
      'hub/sensor/welcomb-n1-needs/config',
      'hub/binary_sensor/welcomb-n1-open/config',
    ]);
    for (const { payload } of messages) {
      expect(JSON.parse(payload)).toMatchObject({
        state_topic: 'w/nucs/n1',
        availability_topic: presence.topic,
      });
    }
  });

  it('takes a nuc away with empty retained messages', () => {
    const kept = [...discoveryOf('w', 'hub', hub), stateOf('w', hub, [], display)];
    expect(withdrawalOf('w', 'hub', hub.id)).toEqual(kept.map((one) => ({ ...one, payload: '' })));
  });
});

describe('retained messages', () => {
  it('go out when they change, and all again once they are forgotten', async () => {
    const sent: Publication[] = [];
    const retained = retainedMessages((publication) => Promise.resolve(void sent.push(publication)));
    const quiet = [stateOf('w', hub, [], display)];
    await retained.update(quiet);
    await retained.update(quiet);
    expect(sent).toHaveLength(1);
    await retained.update([stateOf('w', hub, [raisedAlert(effect('raised'))], display)]);
    expect(sent).toHaveLength(2);
    retained.forget();
    await retained.update(quiet);
    expect(sent).toHaveLength(3);
  });

  it('that could not be published are tried again', async () => {
    let broken = true;
    const sent: Publication[] = [];
    const retained = retainedMessages((publication) =>
      broken ? Promise.reject(new Error('away')) : Promise.resolve(void sent.push(publication)),
    );
    await expect(retained.update([stateOf('w', hub, [], display)])).rejects.toThrow('away');
    broken = false;
    await retained.update([stateOf('w', hub, [], display)]);
    expect(sent).toHaveLength(1);
  });

  it('one that is refused holds up no other', async () => {
    const sent: Publication[] = [];
    const retained = retainedMessages((publication) =>
      publication.topic === 'w/nucs/n1'
        ? Promise.reject(new Error('refused'))
        : Promise.resolve(void sent.push(publication)),
    );
    const states = [hub, { ...hub, id: 'n2' }].map((each) => stateOf('w', each, [], display));
    await expect(retained.update(states)).rejects.toThrow('refused');
    expect(sent.map(({ topic }) => topic)).toEqual(['w/nucs/n2']);
  });

  it('a broker that is away is a failure that is tried again', async () => {
    const send = mqttSender(() => Promise.reject(new Error('no connection to the broker')));
    await expect(send(delivery(), recipient(), { kind: 'mqtt', base: 'w' }, 0)).rejects.toThrow(
      'no connection',
    );
  });
});
