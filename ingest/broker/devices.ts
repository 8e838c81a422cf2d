/** Who may connect to the embedded broker, and what a device may publish. */
import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import { isIP } from 'node:net';
import { ownRoot } from '../decode/own-topics.ts';

export interface Device {
  readonly name: string;
  readonly passwordHash: string;
  /** It may publish and subscribe only below `welcomb/<name>`. */
  readonly ownTopicsOnly: boolean;
}

export interface DeviceDirectory {
  readonly devices: readonly Device[];
  /** Slow on purpose (scrypt). */
  readonly isPassword: (password: string, hash: string) => Promise<boolean>;
}

export type Admission =
  | { readonly ok: true; readonly device: Device | undefined }
  | { readonly ok: false; readonly reason: string };

export interface Door {
  admit(name: string | undefined, password: Uint8Array | undefined, address: string): Promise<Admission>;
  setDevices(devices: readonly Device[]): void;
  /** Whether who came in as this device, or nameless, may stay. */
  isStillIn(device: Device | undefined): boolean;
}

export function isLoopback(address: string): boolean {
  const plain = address.replace(/^::ffff:/, '');
  return (isIP(plain) === 4 && plain.startsWith('127.')) || plain === '::1';
}

/** After so many wrong passwords from one address it has to wait. */
const maxFailures = 10;
const failureWindowMs = 60_000;
const maxAddresses = 10_000;

/**
 * Anonymous only from this machine and only until the first device is made. A password that was right once is known
 * again by a keyed digest, so that thirty devices that come back together don't queue for thirty scrypt runs.
 */
export function makeDoor(directory: DeviceDirectory, allowAnonymous: boolean, clock: () => number): Door {
  let devices = new Map(directory.devices.map((device) => [device.name, device]));
  const key = randomBytes(32);
  const known = new Map<string, Buffer>();
  const failures = new Map<string, { count: number; sinceMs: number }>();
  const digest = (device: Device, password: string): Buffer =>
    createHmac('sha256', key).update(`${device.passwordHash}\0${password}`).digest();

  function failed(address: string, reason: string): Admission {
    const now = clock();
    const before = failures.get(address);
    if (!before || now - before.sinceMs > failureWindowMs) {
      if (failures.size >= maxAddresses) failures.clear();
      failures.set(address, { count: 1, sinceMs: now });
    } else before.count += 1;
    return { ok: false, reason };
  }

  function isLockedOut(address: string): boolean {
    const before = failures.get(address);
    return before !== undefined && before.count >= maxFailures && clock() - before.sinceMs <= failureWindowMs;
  }

  async function isRight(device: Device, password: string): Promise<boolean> {
    const given = digest(device, password);
    const right = known.get(device.name);
    if (right && timingSafeEqual(right, given)) return true;
    if (!(await directory.isPassword(password, device.passwordHash))) return false;
    known.set(device.name, given);
    return true;
  }

  const isStillIn = (device: Device | undefined): boolean =>
    device ? devices.get(device.name)?.passwordHash === device.passwordHash : devices.size === 0;

  return {
    async admit(name, password, address) {
      if (name === undefined || name === '') {
        if (allowAnonymous && devices.size === 0 && isLoopback(address))
          return { ok: true, device: undefined };
        return {
          ok: false,
          reason: 'no user name; make a device on the Sensors page and use its name and password',
        };
      }
      if (isLockedOut(address)) return { ok: false, reason: 'too many wrong passwords; wait a minute' };
      const device = devices.get(name);
      if (!device || !(await isRight(device, Buffer.from(password ?? []).toString('utf8')))) {
        return failed(address, `wrong user name or password for "${name.slice(0, 60)}"`);
      }
      // It may have been shut out while its password was checked.
      return isStillIn(device) ? { ok: true, device } : { ok: false, reason: 'this device was shut out' };
    },
    isStillIn,
    setDevices(next) {
      devices = new Map(next.map((device) => [device.name, device]));
    },
  };
}

/** Whether a topic or filter lies within the device's own branch. */
export function isOwnTopic(device: Device, topic: string): boolean {
  const branch = `${ownRoot}/${device.name}`;
  return topic === branch || topic.startsWith(`${branch}/`);
}
