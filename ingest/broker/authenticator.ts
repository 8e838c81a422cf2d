/** Who may connect to the embedded broker. */
import { createHmac, randomBytes, timingSafeEqual } from 'node:crypto';
import { isIP } from 'node:net';
import { PasswordAttempts } from './password-attempts.ts';

export interface Device {
  readonly name: string;
  readonly passwordHash: string;
  /** It may publish and subscribe only below `welcomb/<name>`. */
  readonly ownTopicsOnly: boolean;
}

export interface DeviceDirectory {
  readonly devices: readonly Device[];
  /** Slow on purpose (scrypt), also for an unknown name, which has no hash; rejects when too many wait already. */
  readonly isPassword: (password: string, hash: string | undefined) => Promise<boolean>;
}

export type Authentication =
  | { readonly ok: true; readonly device: Device | undefined }
  | { readonly ok: false; readonly reason: string };

export function isLoopback(address: string): boolean {
  const plain = address.replace(/^::ffff:/, '');
  return (isIP(plain) === 4 && plain.startsWith('127.')) || plain === '::1';
}

const refused = (reason: string): Authentication => ({ ok: false, reason });

/**
 * Anonymous only from this machine and only until the first device is made. A password that was right once is known
 * again by a keyed digest, so that thirty devices that come back together don't queue for thirty scrypt runs.
 */
export class Authenticator {
  readonly #directory: DeviceDirectory;
  readonly #allowAnonymous: boolean;
  readonly #attempts: PasswordAttempts;
  readonly #key = randomBytes(32);
  readonly #known = new Map<string, Buffer>();
  #devices: ReadonlyMap<string, Device>;

  constructor(directory: DeviceDirectory, allowAnonymous: boolean, clock: () => number) {
    this.#directory = directory;
    this.#allowAnonymous = allowAnonymous;
    this.#attempts = new PasswordAttempts(clock);
    this.#devices = new Map(directory.devices.map((device) => [device.name, device]));
  }

  async authenticate(
    name: string | undefined,
    password: Uint8Array | undefined,
    address: string,
  ): Promise<Authentication> {
    if (name === undefined || name === '') {
      if (this.#allowAnonymous && this.#devices.size === 0 && isLoopback(address))
        return { ok: true, device: undefined };
      return refused('no user name; make a device on the Sensors page and use its name and password');
    }
    if (!this.#attempts.reserve(address)) return refused('too many wrong passwords; wait a minute');
    const device = this.#devices.get(name);
    const given = Buffer.from(password ?? []).toString('utf8');
    let right: boolean;
    try {
      right = await this.#isRight(device, given);
    } catch (error) {
      this.#attempts.giveBack(address);
      throw error;
    }
    if (!right || !device) return refused(`wrong user name or password for "${name.slice(0, 60)}"`);
    this.#attempts.giveBack(address);
    // It may have been shut out while its password was checked.
    return this.isStillAllowed(device) ? { ok: true, device } : refused('this device was shut out');
  }

  async #isRight(device: Device | undefined, password: string): Promise<boolean> {
    if (!device) return this.#directory.isPassword(password, undefined);
    const given = createHmac('sha256', this.#key).update(`${device.passwordHash}\0${password}`).digest();
    const right = this.#known.get(device.name);
    if (right && timingSafeEqual(right, given)) return true;
    if (!(await this.#directory.isPassword(password, device.passwordHash))) return false;
    this.#known.set(device.name, given);
    return true;
  }

  /** Whether a connection of this device, or a nameless one, may stay. */
  isStillAllowed(device: Device | undefined): boolean {
    return device
      ? this.#devices.get(device.name)?.passwordHash === device.passwordHash
      : this.#devices.size === 0;
  }

  /** Returns the devices that may no longer stay. */
  setDevices(next: readonly Device[]): readonly Device[] {
    const before = [...this.#devices.values()];
    this.#devices = new Map(next.map((device) => [device.name, device]));
    const gone = before.filter((device) => !this.isStillAllowed(device));
    for (const { name } of gone) this.#known.delete(name);
    return gone;
  }
}
