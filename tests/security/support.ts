/** Requests as hostile clients send them: over a bare socket, or with headers that `fetch` would not send. */
import { request } from 'node:http';
import { connect } from 'node:net';

export interface RawAnswer {
  readonly status: number;
  readonly headers: Readonly<Record<string, string | string[] | undefined>>;
  readonly body: string;
}

/** `fetch` sets Host and Origin by itself; this sends what it is told. */
export function ask(
  port: number,
  path: string,
  {
    method = 'GET',
    headers = {},
    body,
  }: { method?: string; headers?: Record<string, string>; body?: string } = {},
): Promise<RawAnswer> {
  return new Promise((resolve, reject) => {
    const asked = request({ host: '127.0.0.1', port, path, method, headers, agent: false }, (answer) => {
      let text = '';
      answer.setEncoding('utf8');
      answer.on('data', (piece: string) => (text += piece));
      answer.on('end', () => {
        resolve({ status: answer.statusCode ?? 0, headers: answer.headers, body: text });
      });
    });
    asked.on('error', reject);
    asked.end(body);
  });
}

/** Writes bytes to a socket and gathers what comes back until the other side closes. */
export function talk(port: number, bytes: string): Promise<string> {
  return new Promise((resolve) => {
    const socket = connect(port, '127.0.0.1', () => socket.write(bytes));
    let heard = '';
    socket.setEncoding('utf8');
    socket.on('data', (piece: string) => (heard += piece));
    socket.on('error', () => undefined);
    socket.on('close', () => {
      resolve(heard);
    });
  });
}

export const json = (body: unknown, headers: Record<string, string> = {}) => ({
  method: 'POST',
  headers: { 'Content-Type': 'application/json', ...headers },
  body: JSON.stringify(body),
});
