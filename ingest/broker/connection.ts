/**
 * One connection to the embedded broker, as the stream that the broker reads: the socket without packets that are too
 * large, and what is known about who is at the other end.
 */
import type { Socket } from 'node:net';
import { Duplex } from 'node:stream';
import type { Device } from './authenticator.ts';
import { frameGuard, type FrameGuard, type Oversized } from './frame-guard.ts';
import type { Pace } from './pace.ts';

/** So much may wait unread, or unsent, before the other side has to wait. */
const bufferBytes = 64 * 1024;
/** A CONNECT with names, a password and a last will of ordinary size. */
const maxFirstPacketBytes = 16 * 1024;

export interface ConnectionOptions {
  readonly maxPacketBytes: number;
  readonly pace: Pace;
  readonly onOversized: (packet: Oversized) => void;
}

export class Connection extends Duplex {
  readonly address: string;
  readonly pace: Pace;
  /** Whose name and password it showed. */
  device: Device | undefined;
  isAuthenticated = false;
  /** What it subscribes to. */
  readonly filters = new Set<string>();
  readonly #socket: Socket;
  readonly #frames: FrameGuard;

  constructor(socket: Socket, options: ConnectionOptions) {
    super({ allowHalfOpen: false, readableHighWaterMark: bufferBytes, writableHighWaterMark: bufferBytes });
    this.#socket = socket;
    this.address = (socket.remoteAddress ?? '').replace(/^::ffff:/, '');
    this.pace = options.pace;
    this.#frames = frameGuard(
      () => (this.isAuthenticated ? options.maxPacketBytes : maxFirstPacketBytes),
      () => false,
      options.onOversized,
    );
    socket.on('data', (chunk: Buffer) => {
      const passed = this.#frames.pass(chunk);
      if (passed.length > 0 && !this.push(passed)) socket.pause();
    });
    socket.on('end', () => this.push(null));
    socket.on('error', (error) => this.destroy(error));
    socket.on('close', () => this.destroy());
  }

  override _read(): void {
    this.#socket.resume();
  }

  override _write(chunk: Buffer, encoding: BufferEncoding, done: (error?: Error | null) => void): void {
    this.#socket.write(chunk, encoding, done);
  }

  /** The broker writes an acknowledgement in three pieces, and those of one commit together. */
  override _writev(pieces: { chunk: Buffer }[], done: (error?: Error | null) => void): void {
    this.#socket.write(Buffer.concat(pieces.map(({ chunk }) => chunk)), done);
  }

  override _final(done: () => void): void {
    this.#socket.end(done);
  }

  override _destroy(error: Error | null, done: (error: Error | null) => void): void {
    this.#socket.destroy();
    done(error);
  }
}
