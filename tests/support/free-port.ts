import { createServer, type AddressInfo } from 'node:net';

/** A port of 127.0.0.1 that nothing listened on a moment ago, for a program that can’t be asked which it took. */
export async function freePort(): Promise<number> {
  const socket = createServer();
  await new Promise<void>((resolve) => socket.listen(0, '127.0.0.1', resolve));
  const { port } = socket.address() as AddressInfo;
  await new Promise((resolve) => socket.close(resolve));
  return port;
}
