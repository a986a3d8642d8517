import { ROWS } from '../../data/matrix-rows';
import type { Operation } from './operations';
import { listDataExports, reachedFrom } from './reach';

/**
 * How the exports of lib/data are covered: by an operation that reaches them, or (the program's own, without a
 * person) by the reason that their row gives. What has neither is untested.
 */
export function untestedExports(operations: readonly Operation[]) {
  const files = new Set(operations.map(({ file }) => file));
  const reached = new Set([...files].flatMap((file) => [...reachedFrom(file)]));
  const all = listDataExports();
  const bySystem: [name: string, why: string][] = [];
  const untested: string[] = [];
  for (const name of all) {
    const [home = '', key = ''] = name.split(' ');
    if (reached.has(name) || reached.has(`${home} *`)) continue;
    const row = ROWS[home]?.[key];
    if (row?.kind === 'system') bySystem.push([name, row.why]);
    else untested.push(name);
  }
  return { count: all.length, bySystem, untested };
}
