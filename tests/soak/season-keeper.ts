/** A keeper at the page, by HTTP: what was asked for is done again where a backup from before it was brought back. */

interface Asked {
  readonly atMs: number;
  readonly method: string;
  readonly path: string;
  readonly body: unknown;
}

export class SeasonKeeper {
  #http = '';
  #asked: Asked[] = [];
  /** Entries of the field log that the server said are stored. */
  readonly logged = new Map<string, number>();

  /** Where the server listens now. */
  at(http: string): void {
    this.#http = http;
  }

  async get<T>(path: string): Promise<T> {
    return (await this.#send('GET', path)) as T;
  }

  async do<T = unknown>(atMs: number, method: string, path: string, body: unknown): Promise<T> {
    const answer = await this.#send(method, path, body);
    this.#asked.push({ atMs, method, path, body });
    return answer as T;
  }

  async log(atMs: number, entries: readonly { readonly id: string }[]): Promise<void> {
    const { items } = await this.do<{ items: { id: string; result: string; problems: string[] }[] }>(
      atMs,
      'POST',
      '/log',
      { entries },
    );
    for (const { id, result, problems } of items) {
      if (result === 'refused') throw new Error(`the log refused ${id}: ${problems.join(' ')}`);
      this.logged.set(id, atMs);
    }
  }

  /** What the backup does not have is asked for once more. */
  async doAgainSince(backupMs: number): Promise<number> {
    const lost = this.#asked.filter(({ atMs }) => atMs > backupMs);
    for (const { method, path, body } of lost) await this.#send(method, path, body);
    return lost.length;
  }

  async #send(method: string, path: string, body?: unknown): Promise<unknown> {
    const response = await fetch(`${this.#http}/api/v1${path}`, {
      method,
      headers: { 'content-type': 'application/json', origin: new URL(this.#http).origin },
      ...(body === undefined ? {} : { body: JSON.stringify(body) }),
    });
    const text = await response.text();
    if (!response.ok) throw new Error(`${method} ${path}: ${String(response.status)} ${text}`);
    return text === '' ? undefined : JSON.parse(text);
  }
}
