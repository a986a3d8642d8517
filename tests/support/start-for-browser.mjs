// The program for the end-to-end tests, on a database that no earlier run has written to.
import { rmSync } from 'node:fs';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../..');
rmSync(path.resolve(root, process.env.DATA_DIR), { recursive: true, force: true });
process.argv[2] = 'start';
await import('../../scripts/run.mjs');
