/** What can be set at the start: every key once, with its default, its check and its description. */
import { isIP } from 'node:net';
import * as z from 'zod';

/** A secret that can't be printed by accident: every way of turning it into text gives `<secret>`. */
export class Secret {
  readonly #text: string;
  constructor(text: string) {
    this.#text = text;
  }
  reveal(): string {
    return this.#text;
  }
  toString(): string {
    return '<secret>';
  }
  toJSON(): string {
    return '<secret>';
  }
  [Symbol.for('nodejs.util.inspect.custom')](): string {
    return '<secret>';
  }
}

interface HostPort {
  readonly host: string;
  readonly port: number;
}

const hostPortForm = /^(?:\[(?<v6>[0-9A-Fa-f:.]+)\]|(?<name>[A-Za-z0-9._-]+)):(?<port>\d{1,5})$/;
/** Port 0 asks the system for a free port. */
function readHostPort(text: string): HostPort | undefined {
  const groups = hostPortForm.exec(text)?.groups;
  const port = Number(groups?.['port']);
  const v6 = groups?.['v6'];
  if (!groups || port > 65_535 || (v6 !== undefined && isIP(v6) !== 6)) return undefined;
  return { host: v6 ?? groups['name'] ?? '', port };
}

const expected = (what: string) => ({ error: `expected ${what}` });
const hostPort = (byDefault: string) => {
  const what = 'HOST:PORT, such as 127.0.0.1:8480 or [::1]:8480';
  return z
    .string(expected(what))
    .refine((text) => readHostPort(text) !== undefined, expected(what))
    .transform((text): HostPort => readHostPort(text) ?? { host: '', port: 0 })
    .prefault(byDefault)
    .meta({ form: 'HOST:PORT' });
};
const file = (what: string) =>
  z
    .string(expected(`the path of ${what}`))
    .min(1, expected(`the path of ${what}`))
    .meta({ form: 'FILE' });
const keyAndCert = (who: string) =>
  z
    .strictObject({
      key: file('a PEM file with the private key').describe(`Private key (PEM) for ${who}`),
      cert: file('a PEM file with the certificate').describe(`Certificate chain (PEM) for ${who}`),
    })
    .optional();

function isBrokerUrl(text: string): boolean {
  if (!URL.canParse(text)) return false;
  const url = new URL(text);
  return (
    ['mqtt:', 'mqtts:', 'ws:', 'wss:'].includes(url.protocol) && url.hostname !== '' && url.password === ''
  );
}
const proxyNames = ['loopback', 'linklocal', 'uniquelocal'];
function isProxy(text: string): boolean {
  if (proxyNames.includes(text)) return true;
  const [address = '', bits, ...more] = text.split('/');
  const version = isIP(address);
  if (version === 0 || more.length > 0) return false;
  return bits === undefined || (/^\d{1,3}$/.test(bits) && Number(bits) <= (version === 4 ? 32 : 128));
}

const brokerForm =
  'mqtt://HOST:PORT, mqtts://HOST:PORT, ws://HOST:PORT/PATH or wss://HOST:PORT/PATH without a password in it';
const proxyForm = `an IP address, a range such as 10.0.0.0/8, or ${proxyNames.join(', ')}`;
const logLevels = ['fatal', 'error', 'warn', 'info', 'debug', 'trace', 'silent'] as const;

export const settingsSchema = z.strictObject({
  data: z
    .string(expected('a folder'))
    .min(1, expected('a folder'))
    .default('welcomb-data')
    .describe('Folder of the database and its backups; made when it is missing')
    .meta({ form: 'DIR' }),
  http: hostPort('127.0.0.1:8480').describe('Address of the web page and the API'),
  mqtt: hostPort('127.0.0.1:1883').describe('Address of the embedded MQTT broker'),
  broker: z
    .string(expected(brokerForm))
    .refine(isBrokerUrl, expected(brokerForm))
    .optional()
    .describe('A broker that you have, instead of the embedded one')
    .meta({ form: 'URL' }),
  demo: z
    .boolean(expected('true or false'))
    .default(false)
    .describe('Show invented nucs with history and a live feed, in a data folder of their own'),
  brokerUser: z
    .string(expected('a user name'))
    .optional()
    .describe('User name at your broker')
    .meta({ form: 'NAME' }),
  brokerPassword: z
    .string(expected('a password'))
    .transform((text) => new Secret(text))
    .optional()
    .describe('Password at your broker')
    .meta({ form: 'TEXT', secret: true }),
  brokerCa: file('a PEM file with the certificate authority')
    .optional()
    .describe('Certificate authority (PEM) that signed your broker’s certificate'),
  brokerClientId: z
    .string(expected('1 to 64 letters, digits, - or _'))
    .regex(/^[A-Za-z0-9_-]{1,64}$/, expected('1 to 64 letters, digits, - or _'))
    .default('welcomb')
    .describe('Client id at your broker; keep it, so that the broker keeps messages while the server is down')
    .meta({ form: 'NAME' }),
  httpTls: keyAndCert('the web page').describe('Serve the web page over HTTPS'),
  mqttTls: keyAndCert('the embedded broker').describe('Serve the embedded broker over TLS'),
  basePath: z
    .string(expected('a path, such as /bees'))
    .regex(/^(\/[A-Za-z0-9._~-]+)*\/?$/, expected('a path, such as /bees'))
    .transform((path) => path.replace(/\/$/, ''))
    .prefault('')
    .describe('Path under which a reverse proxy serves this')
    .meta({ form: 'PATH' }),
  trustedProxies: z
    .array(
      z.string(expected(proxyForm)).refine(isProxy, expected(proxyForm)),
      expected(`a list of ${proxyForm}`),
    )
    .default([])
    .describe('Reverse proxies whose X-Forwarded headers are believed')
    .meta({ form: 'ADDRESS,…' }),
  hostNames: z
    .array(
      z
        .string(expected('a host name, such as nucs.example.org'))
        .regex(/^[A-Za-z0-9.-]{1,253}$/, expected('a host name, such as nucs.example.org')),
      expected('a list of host names'),
    )
    .default([])
    .describe('Names, besides addresses and this machine’s own name, by which browsers may reach the page')
    .meta({ form: 'NAME,…' }),
  sessionDays: z
    .int(expected('a whole number from 1 to 365'))
    .min(1, expected('a whole number from 1 to 365'))
    .max(365, expected('a whole number from 1 to 365'))
    .default(30)
    .describe('Days after which somebody who was not here has to sign in again')
    .meta({ form: 'DAYS' }),
  setupMinutes: z
    .int(expected('a whole number from 0 to 60'))
    .min(0, expected('a whole number from 0 to 60'))
    .max(60, expected('a whole number from 0 to 60'))
    .default(0)
    .describe(
      'Minutes after a start in which a device at home may set the first password of an empty server without the setup code; 0: never',
    )
    .meta({ form: 'MINUTES' }),
  metrics: z
    .boolean(expected('true or false'))
    .default(false)
    .describe('Serve /metrics (OpenMetrics) to this machine, and to who has an API key or is signed in'),
  logLevel: z
    .enum(logLevels, expected(`one of ${logLevels.join(', ')}`))
    .default('info')
    .describe('How much is written to the log')
    .meta({ form: 'LEVEL' }),
});
export type Settings = z.output<typeof settingsSchema>;
