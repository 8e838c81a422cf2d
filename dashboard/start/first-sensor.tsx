/** Waits for a sensor to speak; shows how one does. */
import { SensorHelp } from '../sensors/sensor-help.tsx';
import { skipped } from './skipped.ts';

export function FirstSensor() {
  return (
    <>
      <p role="status">Waiting for a first reading. It appears here by itself.</p>
      <SensorHelp />
      <button
        type="button"
        onClick={() => {
          skipped.value = true;
        }}
      >
        Later: go on without a sensor
      </button>
    </>
  );
}
