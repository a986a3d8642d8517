import { readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';

const root = path.resolve(import.meta.dirname, '../../..');
const METHODS = ['GET', 'HEAD', 'POST', 'PUT', 'PATCH', 'DELETE'] as const;
export type Method = (typeof METHODS)[number];

const under = (folder: string) =>
  readdirSync(path.join(root, folder), { recursive: true, encoding: 'utf8' }).map((file) =>
    path.posix.join(folder, file),
  );
const read = (file: string) => readFileSync(path.join(root, file), 'utf8');

/** The methods that a route handler of `app/` answers: what it exports under their names. */
const methodsOf = (file: string): Method[] => {
  const source = read(file);
  return METHODS.filter((method) =>
    new RegExp(
      `export (?:const|function|async function) ${method}\\b|export \\{[^}]*\\b${method}\\b[^}]*\\}`,
    ).test(source),
  );
};

// Handlers of `pages/` look at the method themselves.
const PAGES_API: Record<string, readonly Method[]> = {
  'pages/api/media/[...path].ts': ['GET', 'HEAD'],
  'pages/api/ingest/[key].ts': ['HEAD', 'PUT'],
};

export interface Operation {
  /** `page app/desk/page.tsx`, `GET app/api/health/route.ts`, `action app/lessons/actions.ts replyAction` */
  name: string;
  kind: 'page' | 'route' | 'action' | 'other-methods';
  file: string;
}

/**
 * Everything that the program answers over HTTP, read from its folders: pages, the methods of routes (and, as one
 * operation each, all methods that a route or page does not answer), and server actions.
 */
export function listOperations(): Operation[] {
  const app = under('app');
  const pages = app.filter((file) => /(^|\/)page\.tsx$/.test(file));
  const routes = [
    ...app
      .filter((file) => /(^|\/)route\.ts$/.test(file))
      .map((file) => ({ file, methods: methodsOf(file) })),
    ...under('pages')
      .filter((file) => /\.tsx?$/.test(file))
      .map((file) => ({ file, methods: PAGES_API[file] ?? [] })),
  ];
  const actions = app
    .filter((file) => /\.tsx?$/.test(file) && /^'use server';/.test(read(file)))
    .flatMap((file) =>
      [...read(file).matchAll(/^export (?:const|async function|function) (\w+)/gm)].map((found) => ({
        name: `action ${file} ${found[1]}`,
        kind: 'action' as const,
        file,
      })),
    );
  return [
    ...pages.map((file) => ({ name: `page ${file}`, kind: 'page' as const, file })),
    ...routes.flatMap(({ file, methods }) => [
      ...methods.map((method) => ({ name: `${method} ${file}`, kind: 'route' as const, file })),
      { name: `other methods ${file}`, kind: 'other-methods' as const, file },
    ]),
    ...actions,
  ];
}

/** The methods that a route does not answer; HEAD comes along with GET. */
export const otherMethodsOf = (file: string): Method[] => {
  const own = PAGES_API[file] ?? methodsOf(file);
  return METHODS.filter((method) => !own.includes(method) && !(method === 'HEAD' && own.includes('GET')));
};
