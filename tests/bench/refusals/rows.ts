import { listOperations, otherMethodsOf } from './operations';
import { route, type OperationRow } from './row';
import { BREAKDOWN_ROWS } from './rows/breakdowns';
import { DESK_ROWS } from './rows/desk';
import { DRILL_ROWS } from './rows/drills';
import { LESSON_ROWS } from './rows/lessons';
import { MONEY_ROWS } from './rows/money';
import { NOTICE_ROWS } from './rows/notices';
import { PAGE_ROWS } from './rows/pages';
import { PEOPLE_ROWS } from './rows/people';
import { PRIVACY_ROWS } from './rows/privacy';
import { PROGRAM_ROWS } from './rows/program';
import { ROUTE_ROWS } from './rows/routes';

/** `app/api/lessons/[lessonId]/sheet/route.ts` is at `/api/lessons/…/sheet`. */
const addressOf = (file: string) =>
  `/${file
    .replace(/^(app|pages)\//, '')
    .replace(/(\/route)?\.ts$/, '')
    .replace(/\[[^\]]+\]/g, '00000000-0000-4000-8000-000000000000')}`;

/** A method that a route does not answer is refused, whoever asks. */
const otherMethods = Object.fromEntries(
  listOperations()
    .filter(({ kind }) => kind === 'other-methods')
    .map(({ name, file }) => [
      name,
      otherMethodsOf(file).map((method) =>
        route('open', {}, () => addressOf(file), {
          method,
          refused: 'no-such-method',
          outside: 'no-such-method',
          hasNoOrigin: true,
        }),
      ),
    ]),
);

const one = (rows: Record<string, OperationRow>) =>
  Object.fromEntries(Object.entries(rows).map(([name, row]) => [name, [row]]));

/** How every call of an operation has to end. An operation without a row counts as untested. */
export const OPERATION_ROWS: Record<string, readonly OperationRow[]> = {
  ...one(LESSON_ROWS),
  ...one(BREAKDOWN_ROWS),
  ...one(MONEY_ROWS),
  ...one(PEOPLE_ROWS),
  ...one(DRILL_ROWS),
  ...one(DESK_ROWS),
  ...one(NOTICE_ROWS),
  ...one(PRIVACY_ROWS),
  ...one(PROGRAM_ROWS),
  ...one(PAGE_ROWS),
  ...one(ROUTE_ROWS),
  ...otherMethods,
};
