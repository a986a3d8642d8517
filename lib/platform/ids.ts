import { nanoid } from 'nanoid';
import { v7 } from 'uuid';
import type { Ids } from '@/lib/workflows/ports';

const TOKEN_LENGTH = 43; // of 64 letters: 258 bits

/** UUIDs of version 7, which sort by time, and tokens of 43 URL-safe letters from the system's random source. */
export const systemIds: Ids = { uuid: () => v7(), token: () => nanoid(TOKEN_LENGTH) };
