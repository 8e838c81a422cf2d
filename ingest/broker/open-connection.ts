/** The connection to an outside broker, by its address: plain, TLS, or either of them in a WebSocket. */
import { connect, isIP, type Socket } from 'node:net';
import type { Duplex } from 'node:stream';
import { connect as connectTls } from 'node:tls';
import { createWebSocketStream, WebSocket } from 'ws';

export interface BrokerAddress {
  readonly url: URL;
  /** Without the brackets of an IPv6 address. */
  readonly host: string;
  readonly port: number;
}

const usualPorts: Readonly<Record<string, number>> = {
  'mqtt:': 1883,
  'mqtts:': 8883,
  'ws:': 80,
  'wss:': 443,
};

export function brokerAddress(text: string): BrokerAddress {
  const url = new URL(text);
  const port = url.port === '' ? (usualPorts[url.protocol] ?? 1883) : Number(url.port);
  return { url, host: url.hostname.replace(/^\[(.*)\]$/, '$1'), port };
}

/**
 * @param ca PEM text of the authority that signed the broker's certificate
 * @param onOpen called when the other side can be spoken to
 */
export function openConnection(
  { url, host, port }: BrokerAddress,
  ca: string | undefined,
  onOpen: () => void,
): Duplex {
  const trusted = ca === undefined ? {} : { ca };
  if (url.protocol === 'ws:' || url.protocol === 'wss:') {
    const webSocket = new WebSocket(url, 'mqtt', { perMessageDeflate: false, ...trusted });
    webSocket.on('open', onOpen);
    return createWebSocketStream(webSocket);
  }
  const named = isIP(host) === 0 ? { servername: host } : {};
  const secure = url.protocol === 'mqtts:';
  const socket: Socket = secure ? connectTls({ host, port, ...named, ...trusted }) : connect({ host, port });
  socket.setNoDelay(true);
  socket.on(secure ? 'secureConnect' : 'connect', onOpen);
  return socket;
}
