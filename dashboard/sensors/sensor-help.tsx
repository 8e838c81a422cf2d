/** How a sensor speaks, with the addresses of this very server. */
import { useResource } from '../state/resource.ts';
import { status } from '../state/farm.ts';
import { Caution } from '../parts/caution.tsx';
import { Term } from '../parts/term.tsx';

export function SensorHelp() {
  const broker = useResource(status).data?.broker;
  return (
    <section class="card" aria-label="How a sensor speaks">
      <h2>How a sensor speaks</h2>
      {broker && (
        <p>
          {broker.kind === 'embedded'
            ? 'The built-in broker listens at '
            : 'Readings come from the broker at '}
          <code>{broker.address}</code>. {broker.connected ? '' : 'It is not connected. '}
          {broker.detail}
        </p>
      )}
      <p>
        Any MQTT client will do. The <Term word="topic" /> says which sensor and what it measures; the message
        is the figure:
      </p>
      <pre class="payload" tabIndex={0} aria-label="Example">
        {`mosquitto_pub -q 1 -t welcomb/scale-3/weight -m 12.437
mosquitto_pub -q 1 -t welcomb/probe-3/temperature -m 34.6`}
      </pre>
      <p>
        Weight is in kg, temperature in °C, unless the message says otherwise:{' '}
        <code>{'{"value": 94.3, "unit": "°F"}'}</code>. A third word tells several probes of one sensor apart:{' '}
        <code>welcomb/node-3/temperature/cage</code>. Sensors that speak their own JSON are given their
        meaning above, on a message that has come in.
      </p>
      <Caution about="electrics" />
    </section>
  );
}
