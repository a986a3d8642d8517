/**
 * The network address that rate limits count by. The last entry of `X-Forwarded-For` is the one that the nearest
 * proxy wrote; without a proxy the server itself writes it. Earlier entries are hearsay.
 */
export const clientIp = (forwardedFor: string | null | undefined): string =>
  forwardedFor?.split(',').at(-1)?.trim() || 'unknown';
