/** Channels: their readings, calibrations and places. */
import * as places from '../places.ts';
import * as sensors from '../sensors.ts';
import { byNumber, type Operation } from './operation.ts';

export const channelOperations = {
  listChannels: {
    method: 'get',
    path: '/channels',
    role: 'viewer',
    summary: 'Every channel with its newest reading',
    response: sensors.channelsSchema,
  },
  getReadings: {
    method: 'get',
    path: '/channels/{id}/readings',
    role: 'viewer',
    summary: 'Readings of a channel, oldest first',
    params: byNumber,
    query: sensors.readingsQuerySchema,
    response: sensors.readingsSchema,
  },
  forgetChannels: {
    method: 'post',
    path: '/channels/forget',
    role: 'keeper',
    summary: 'Forget channels that were never assigned, with all their readings',
    body: sensors.forgetChannelsSchema,
    response: sensors.forgottenChannelsSchema,
  },
  listCalibrations: {
    method: 'get',
    path: '/channels/{id}/calibrations',
    role: 'viewer',
    summary: 'Calibrations of a channel',
    params: byNumber,
    response: sensors.calibrationsSchema,
  },
  addCalibration: {
    method: 'post',
    path: '/channels/{id}/calibrations',
    role: 'keeper',
    summary: 'Calibrate from an instant on',
    params: byNumber,
    body: sensors.calibrationInputSchema,
    response: sensors.calibrationSchema,
  },
  assign: {
    method: 'post',
    path: '/assignments',
    role: 'keeper',
    summary: 'Say where a channel stands from an instant on',
    body: places.assignmentInputSchema,
    response: places.assignmentSchema,
  },
  changeAssignment: {
    method: 'patch',
    path: '/assignments/{id}',
    role: 'keeper',
    summary: 'End or move the start of an assignment',
    params: byNumber,
    body: places.assignmentPatchSchema,
    response: places.assignmentSchema,
  },
} as const satisfies Record<string, Operation>;
