/** Ids of entries are made on this device. `crypto.randomUUID` is missing over plain HTTP; random bytes are not. */
export function newId(): string {
  const bytes = crypto.getRandomValues(new Uint8Array(16));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}
