import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';

const TABLES = ['LedgerEntry', 'BillingDocument', 'AuditEntry', 'LessonEvent', 'ReplyEdit'];

describe.each(TABLES)('%s is append-only', (table) => {
  test.each([
    ['UPDATE', `UPDATE "${table}" SET "id" = "id"`],
    ['DELETE', `DELETE FROM "${table}"`],
    ['TRUNCATE', `TRUNCATE "${table}" CASCADE`],
  ])('%s is refused, even of no row', async (operation, sql) => {
    await expect(prisma.$executeRawUnsafe(sql)).rejects.toThrow(
      `${table} is append-only: ${operation} is refused`,
    );
  });
});
