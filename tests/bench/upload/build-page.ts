import { mkdir, writeFile } from 'node:fs/promises';
import path from 'node:path';
import { build } from 'esbuild';

/** Writes a page with the program's own queue on it (`window.bench`, see page.ts) into the folder. */
export const buildPage = async (folder: string): Promise<void> => {
  await mkdir(folder, { recursive: true });
  await build({
    entryPoints: [path.join(import.meta.dirname, 'page.ts')],
    outfile: path.join(folder, 'page.js'),
    tsconfig: path.join(import.meta.dirname, '../../../tsconfig.json'),
    bundle: true,
    format: 'esm',
    logLevel: 'error',
  });
  await writeFile(
    path.join(folder, 'page.html'),
    '<!doctype html><script type="module" src="/page.js"></script>',
  );
};
