/** What has to be known of an outside broker. */
export interface OutsideBroker {
  readonly kind: 'outside';
  /** `mqtt://`, `mqtts://`, `ws://` or `wss://`, with host and port. */
  readonly url: string;
  readonly clientId: string;
  readonly username?: string;
  readonly password?: string;
  /** PEM text of the authority that signed the broker's certificate. */
  readonly ca?: string;
}

export interface OutsideLimits {
  readonly maxPacketBytes: number;
  /** Messages that the broker may have under way to us (MQTT 5). */
  readonly receiveMaximum: number;
  readonly keepaliveS: number;
  /** First and longest pause before the next attempt to connect. */
  readonly reconnectMs: number;
  readonly maxReconnectMs: number;
}
