import { existsSync, readdirSync, readFileSync } from 'node:fs';
import path from 'node:path';

// Which exports of lib/data an operation can reach, by following imports: a file counts as reached with all that it
// imports, an export of lib/data when a reached file names it. Coarser than a call graph, and never blind to a file.

const root = path.resolve(import.meta.dirname, '../../..');
const DATA = /^lib\/data\/[\w-]+\.(?:read|write|system)\.ts$/;
const IMPORT =
  /(?:import|export)\s+(type\s+)?(?:(\w+)\s*,?\s*)?(?:\{([^}]*)\}|\*(?:\s+as\s+\w+)?)?\s*(?:from\s*)?['"]([^'"]+)['"]/g;

const fileOf = (from: string, name: string): string | null => {
  const base = name.startsWith('@/')
    ? name.slice(2)
    : name.startsWith('.')
      ? path.posix.join(path.posix.dirname(from), name)
      : null;
  if (base === null) return null;
  const all = [base, `${base}.ts`, `${base}.tsx`];
  return all.find((file) => /\.tsx?$/.test(file) && existsSync(path.join(root, file))) ?? null;
};

interface Import {
  file: string;
  /** Null for everything that the file exports. */
  names: readonly string[] | null;
}

const kept = new Map<string, readonly Import[]>();
const importsOf = (file: string): readonly Import[] => {
  const known = kept.get(file);
  if (known) return known;
  const source = readFileSync(path.join(root, file), 'utf8');
  const found = [...source.matchAll(IMPORT)].flatMap(([, isType, , names, from]) => {
    const to = isType ? null : fileOf(file, from ?? '');
    if (!to) return [];
    const values = names
      ?.split(',')
      .map((name) => name.trim())
      .filter((name) => name !== '' && !name.startsWith('type '))
      .map((name) => name.split(/\s+as\s+/)[0]!);
    return [{ file: to, names: values ?? null }];
  });
  kept.set(file, found);
  return found;
};

/** `balances.read listOwed` for each export of lib/data that a file can reach. */
export function reachedFrom(file: string): Set<string> {
  const reached = new Set<string>();
  const seen = new Set<string>([file]);
  const waiting = [file];
  for (let at = waiting.pop(); at !== undefined; at = waiting.pop()) {
    for (const { file: to, names } of importsOf(at)) {
      if (names?.length === 0) continue;
      if (DATA.test(to)) {
        const home = path.posix.basename(to, '.ts');
        for (const name of names ?? ['*']) reached.add(`${home} ${name}`);
      }
      if (seen.has(to) || to.startsWith('lib/data/generated/')) continue;
      seen.add(to);
      waiting.push(to);
    }
  }
  return reached;
}

/** The exports of lib/data that are functions, as `balances.read listOwed`. */
export const listDataExports = (): string[] =>
  readdirSync(path.join(root, 'lib/data'))
    .filter((name) => DATA.test(`lib/data/${name}`))
    .flatMap((name) =>
      [
        ...readFileSync(path.join(root, 'lib/data', name), 'utf8').matchAll(
          /^export (?:async )?(?:function|const) (\w+)\b(?=\s*(?:<[^(]*>)?\(|.*=>)/gm,
        ),
      ].map((found) => `${name.replace(/\.ts$/, '')} ${found[1]}`),
    );
