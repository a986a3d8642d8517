import { readdirSync, statSync } from 'node:fs';
import path from 'node:path';
import type { Client } from 'pg';

/** What a refused call may write: how often something was tried. */
const LEFT_OUT = ['RateLimit', '_prisma_migrations'];

/**
 * What all tables and the data folder hold, as one line each: rows and the newest transaction that wrote one
 * (PostgreSQL's `xmin`), files and their bytes. Two equal digests: nothing was added, changed or removed in between.
 */
export async function makeDigest(client: Client, dataFolder: string) {
  const { rows } = await client.query<{ at: string; name: string }>(
    `SELECT format('%I.%I', schemaname, tablename) AS at, tablename AS name FROM pg_tables
     WHERE schemaname IN ('public', 'pgboss') AND tablename <> ALL($1)
       AND (schemaname = 'public' OR tablename = 'job')`,
    [LEFT_OUT],
  );
  const query = rows
    .map(({ at, name }) => `SELECT '${name}' AS name, count(*), max(xmin::text::bigint) AS newest FROM ${at}`)
    .join(' UNION ALL ');

  const filesUnder = (folder: string): string => {
    const files = readdirSync(folder, { recursive: true, withFileTypes: true }).filter((one) => one.isFile());
    const bytes = files.reduce((sum, one) => sum + statSync(path.join(one.parentPath, one.name)).size, 0);
    return `${files.length} files of ${bytes} bytes`;
  };

  return async (): Promise<Map<string, string>> => {
    const found = await client.query<{ name: string; count: string; newest: string | null }>(query);
    const lines = found.rows.map(({ name, count, newest }) => [name, `${count} ${newest ?? ''}`] as const);
    return new Map([...lines, ['(files)', filesUnder(dataFolder)]]);
  };
}

/** The names of what differs between two digests. */
export const differences = (before: Map<string, string>, after: Map<string, string>): string[] =>
  [...after].filter(([name, line]) => before.get(name) !== line).map(([name]) => name);
