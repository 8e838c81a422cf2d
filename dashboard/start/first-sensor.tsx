/** Waits for a sensor to speak, shows how one does, and takes in one that speaks its own language. */
import { QuarantineRow } from '../sensors/quarantine-list.tsx';
import { SensorHelp } from '../sensors/sensor-help.tsx';
import { mappings, quarantine } from '../state/farm.ts';
import { useResource } from '../state/resource.ts';
import { skip } from './skipped.ts';

export function FirstSensor() {
  const unread = useResource(quarantine).data?.items ?? [];
  const mapped = useResource(mappings).data?.items ?? [];
  return (
    <>
      {unread.length > 0 ? (
        <>
          <p role="status">
            <b>A sensor sent a message in an unknown format.</b> Say which of its figures are readings.
          </p>
          <ul class="quarantine">
            {unread.map((one) => (
              <QuarantineRow key={one.id} one={one} />
            ))}
          </ul>
        </>
      ) : (
        <p role="status">
          {mapped.length > 0
            ? 'The mapping is saved. Waiting for the next message of that sensor; its reading appears here by itself.'
            : 'Waiting for a first reading. It appears here by itself, as does a message that is not understood yet.'}
        </p>
      )}
      <SensorHelp />
      <button
        type="button"
        onClick={() => {
          skip('sensor');
        }}
      >
        Later: go on without a sensor
      </button>
    </>
  );
}
