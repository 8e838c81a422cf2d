/** In a sentence for the owner, without its unit. */
export const megabytes = (bytes: number): string => (bytes / 1e6).toFixed(1);
