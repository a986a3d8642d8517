import { createHash } from 'node:crypto';

/** How a link's token is kept: SHA-256 in hex. The tokens carry 128 bits or more of chance, so that no salt is needed. */
export const tokenHash = (token: string): string => createHash('sha256').update(token).digest('hex');
