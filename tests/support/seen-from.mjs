/** Preloaded by a server under test: the peers of its HTTP connections have the address in TEST_PEER. */
import http from 'node:http';
import process from 'node:process';

const { TEST_PEER: value } = process.env;
const { createServer } = http;
http.createServer = (...given) => {
  const server = createServer(...given);
  server.on('connection', (socket) => {
    Object.defineProperty(socket, 'remoteAddress', { value, configurable: true });
  });
  return server;
};
(await import('node:module')).syncBuiltinESMExports();
