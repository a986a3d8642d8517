import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';
import { expect, test } from 'vitest';
import { ROUTES } from '../support/route-rows';

const root = path.resolve(import.meta.dirname, '../..');
const under = (folder: string) =>
  existsSync(path.join(root, folder))
    ? readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' }).map((file) =>
        path.posix.join(folder, file),
      )
    : [];
const routes = [
  ...under('app').filter((file) => /(^|\/)(page\.tsx|route\.ts)$/.test(file)),
  ...under('pages').filter((file) => /\.tsx?$/.test(file)),
];
const read = (file: string) => readFileSync(path.join(root, file), 'utf8');

test('every address has a row that says who may ask', () => {
  expect(routes.filter((file) => !ROUTES[file])).toEqual([]);
});

const pages = routes.filter((file) => ROUTES[file]?.kind === 'page');
test.each(pages)('%s finds its viewer in the page itself', (file) => {
  expect(read(file)).toMatch(/await (requireViewer|getViewer)\(/);
});

const handlers = routes.filter(
  (file) => /^app\/api\/.*route\.ts$/.test(file) && ROUTES[file]?.kind === 'api',
);
test.each(handlers)('%s checks the origin of every change', (file) => {
  const source = read(file);
  if (!/\b(POST|PUT|PATCH|DELETE)\b/.test(source)) return;
  // Called by the payment service, not by a page: what it says counts by its signature.
  if (file === 'app/api/cards/route.ts') {
    expect(source).toMatch(/settleCardPayment\([^]*signature/);
    return;
  }
  // The upload library's own handler is wrapped in app/_server/uploads.
  const checked = file === 'app/api/uploadthing/route.ts' ? read('app/_server/uploads.ts') + source : source;
  expect(checked).toMatch(/assertSameOrigin\(/);
});

const actions = under('app').filter((file) => /actions\.ts$/.test(file));
test.each(actions)('%s wraps every server action: viewer, limit, parse', (file) => {
  const source = read(file);
  expect(source.startsWith("'use server';")).toBe(true);
  const names = [...source.matchAll(/^export (?:const|async function|function) (\w+)/gm)].map(
    (found) => found[1]!,
  );
  for (const name of names) {
    expect(source).toMatch(new RegExp(`export const ${name} = (formAction|publicAction|callAction)\\(`));
  }
});
