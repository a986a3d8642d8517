import { PrismaPg } from '@prisma/adapter-pg';
import { Pool } from 'pg';
import type { Brand } from '@/lib/domain/shared/brand';
import { type Prisma, PrismaClient } from './generated/client';

// The address is read here and not through platform/env: data may know only the domain, and the check of the
// whole environment has run before any query (scripts and app both start there).
const make = () => {
  const pool = new Pool({
    connectionString: process.env.DATABASE_URL,
    max: Number(process.env.DATABASE_POOL ?? 8),
  });
  return new PrismaClient({ adapter: new PrismaPg(pool, { disposeExternalPool: true }) });
};

// One client a process; the dev server reloads modules and must find the old one.
const kept = globalThis as unknown as { cagepostPrisma?: PrismaClient };
export const prisma = (kept.cagepostPrisma ??= make());

/** A database transaction as the workflows see it: a token to hand on, nothing to call. */
export type Tx = Brand<object, 'Tx'>;

/** The client of a transaction, or the plain one. For the files of this folder only. */
export const db = (tx?: Tx): Prisma.TransactionClient =>
  tx ? (tx as unknown as Prisma.TransactionClient) : prisma;
