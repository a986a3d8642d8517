import path from 'node:path';
import { defineConfig } from 'prisma/config';

// Our own stand-in for the engine that the command line would download: see prisma/schema-engine.mjs.
process.env.PRISMA_SCHEMA_ENGINE_BINARY ??= path.join(import.meta.dirname, 'prisma/schema-engine.mjs');

export default defineConfig({
  schema: 'prisma/schema.prisma',
  migrations: { path: 'prisma/migrations' },
  // The default is never reached: `generate` needs an address to read, not a server.
  datasource: { url: process.env.DATABASE_URL ?? 'postgresql://nobody@127.0.0.1:1/none' },
});
