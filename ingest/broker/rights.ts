/** What a device may publish and subscribe to on the embedded broker. */
import { ownRoot, serverRoot } from '../decode/own-topics.ts';
import { shown } from '../decode/message.ts';
import type { Device } from './authenticator.ts';

const belowServerRoot = `${serverRoot}/`;
/** Devices made before names were checked: a wildcard in a name must not become one in a filter. */
const unusableName = /[+#/$\p{Cc}]/u;

/** Whether a topic or filter lies within the device's own branch. */
export function isOwnTopic(device: Device, topic: string): boolean {
  const branch = `${ownRoot}/${device.name}`;
  if (topic !== branch && !topic.startsWith(`${branch}/`)) return false;
  return !unusableName.test(device.name);
}

/** One sentence; undefined where it may publish there. */
export function whyNotPublish(device: Device | undefined, topic: string): string | undefined {
  if (topic.startsWith(belowServerRoot)) return `only the server publishes below ${serverRoot}`;
  if (!device?.ownTopicsOnly || isOwnTopic(device, topic)) return undefined;
  const name = shown(device.name);
  return `the device "${name}" may publish only below welcomb/${name}; make it again with more rights if it has to`;
}

/** A filter or a topic. `$SYS` tells names and addresses of other clients: that is not for devices. */
export function mayHear(device: Device | undefined, filter: string): boolean {
  if (filter.startsWith('$')) return false;
  return !device?.ownTopicsOnly || isOwnTopic(device, filter);
}
