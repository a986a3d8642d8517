import { expect, test } from 'vitest';
import { untestedExports } from '../bench/refusals/data-exports';
import { listOperations } from '../bench/refusals/operations';
import { OPERATION_ROWS } from '../bench/refusals/rows';

// The benchmark of refusals goes through every operation over HTTP; here only whether it forgets one.

const operations = listOperations();

test('every page, method of a route and server action has a row that says how it must end for whom', () => {
  const names = operations.map(({ name }) => name);
  expect(names.filter((name) => !OPERATION_ROWS[name])).toEqual([]);
  expect(Object.keys(OPERATION_ROWS).filter((name) => !names.includes(name))).toEqual([]);
});

test('the listing finds what is known to be there', () => {
  expect(operations.map(({ name }) => name)).toEqual(
    expect.arrayContaining([
      'page app/desk/page.tsx',
      'PUT app/api/lessons/[lessonId]/sheet/route.ts',
      'POST app/api/auth/[...nextauth]/route.ts',
      'action app/lessons/actions.ts replyAction',
      'other methods app/api/health/route.ts',
    ]),
  );
});

test('every export of lib/data is reached by an operation, or says why only the program itself calls it', () => {
  expect(untestedExports(operations).untested).toEqual([]);
});
