/** How a sensor reports, with the addresses of this very server. */
import { useResource } from '../state/resource.ts';
import { status } from '../state/farm.ts';
import { Caution } from '../parts/caution.tsx';
import { Term } from '../parts/term.tsx';

const standardPort = '1883';
const loopback = /^(127\.|localhost|\[?::1)/;

/** What a device has to be told to reach the broker; nothing where it sits on this machine at the usual port. */
function reachedAt(address: string): string {
  const [, host = '', port = ''] = /^(?:\w+:\/\/)?(.*?)(?::(\d+))?$/.exec(address) ?? [];
  const anyAddress = host === '0.0.0.0' || host === '[::]' || host === '::';
  const name = anyAddress ? location.hostname : host;
  return `${loopback.test(name) ? '' : ` -h ${name}`}${port === '' || port === standardPort ? '' : ` -p ${port}`}`;
}

export function SensorHelp() {
  const broker = useResource(status).data?.broker;
  const at = broker ? reachedAt(broker.address) : '';
  return (
    <>
      {broker && (
        <p>
          {broker.kind === 'embedded'
            ? 'The built-in broker listens at '
            : 'Readings come from the broker at '}
          <code>{broker.address}</code>.{!broker.connected && ` It is not connected. ${broker.detail}`}
          {broker.kind === 'embedded' && loopback.test(broker.address) && (
            <>
              {' '}
              Only programs on this machine reach it there. For sensors in the house start the server with{' '}
              <code>--mqtt 0.0.0.0:1883</code>, and give each a name and a password under Devices, on the
              Sensors page.
            </>
          )}
        </p>
      )}
      <p>
        Any MQTT client will do. The <Term word="topic" /> says which sensor and what it measures; the message
        is the figure:
      </p>
      <pre class="payload" tabIndex={0} aria-label="Example">
        {`mosquitto_pub${at} -q 1 -t welcomb/scale-3/weight -m 12.437
mosquitto_pub${at} -q 1 -t welcomb/probe-3/temperature -m 34.6`}
      </pre>
      <p>
        Weight is in kg, temperature in °C, unless the message says otherwise:{' '}
        <code>{'{"value": 94.3, "unit": "°F"}'}</code>. A third word tells several probes of one sensor apart:{' '}
        <code>welcomb/node-3/temperature/cage</code>. A sensor may send its own JSON on its own topic: let it
        send one message, then say here what its figures mean.
      </p>
      <Caution about="electrics" />
    </>
  );
}
