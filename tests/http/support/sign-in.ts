/** Requests to the server that a test runs just now, by people who sign in. */
import { cookieFrom, passwordOf, send, type TestServer } from './server.ts';

export function visitors(server: () => TestServer) {
  const api = (path: string): string => `${server().url}/api/v1${path}`;
  const signIn = (name: string, password = passwordOf(name), headers = {}): Promise<Response> =>
    send(api('/session'), 'POST', { name, password }, { Origin: server().url, ...headers });
  return {
    api,
    signIn,
    cookieOf: async (name: string): Promise<string> => cookieFrom(await signIn(name)) ?? '',
    /** The headers of who has this cookie. */
    as: (cookie: string) => ({ Cookie: cookie, Origin: server().url }),
  };
}
