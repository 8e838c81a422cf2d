/** Devices that may publish to the embedded broker. */
import * as sensors from '../sensors.ts';
import { byName, type Operation } from './operation.ts';

export const deviceOperations = {
  listDevices: {
    method: 'get',
    path: '/devices',
    role: 'keeper',
    summary: 'Devices that may publish to the embedded broker',
    response: sensors.devicesSchema,
  },
  addDevice: {
    method: 'post',
    path: '/devices',
    role: 'keeper',
    summary: 'Let a device publish',
    body: sensors.deviceInputSchema,
    response: sensors.deviceSchema,
  },
  deleteDevice: {
    method: 'delete',
    path: '/devices/{name}',
    role: 'keeper',
    summary: 'Shut a device out',
    params: byName,
  },
} as const satisfies Record<string, Operation>;
