import type { Client } from 'pg';
import type { ServerAction } from '../../support/action-client';
import { cellsOf, isRefusal, type Cell, type Prepared } from './cells';
import { differences, type makeDigest } from './digest';
import type { Operation } from './operations';
import { request, type Ending } from './requests';
import type { OperationRow, Stand } from './row';
import { isOutside, type TargetName, type World } from './world';

export interface Run {
  origin: string;
  world: World;
  stand: Stand;
  client: Client;
  digest: Awaited<ReturnType<typeof makeDigest>>;
  actions: Map<string, ServerAction>;
}

const NOT_GET = ['POST', 'PUT', 'PATCH', 'DELETE'] as const;
const FOREIGN = { origin: 'https://elsewhere.example', 'sec-fetch-site': 'cross-site' };

/** Limits by person and address are not what is asked here. */
const forgetTries = (client: Client) => client.query('TRUNCATE "RateLimit"');

/** Words of players whom the role may not see, where they stand in what it was answered. */
const leaks = ({ world }: Run, { role }: Cell, { text }: Ending): string[] =>
  world.secretsFor(role).filter((secret) => text.includes(secret));

const told = (operation: Operation, { role, target, expected }: Cell, what: string) =>
  `${operation.name}: ${role} on ${target}: wanted ${expected}, ${what}`;

/** Goes through all cells of an operation and answers how many there were and what was wrong, a line each. */
export async function checkOperation(
  run: Run,
  operation: Operation,
  row: OperationRow,
): Promise<{ cells: number; faults: string[] }> {
  const { world, stand, client, digest } = run;
  const faults: string[] = [];
  const cells = cellsOf(operation, row);

  const prepare = async (cell: Cell): Promise<Prepared> => ({
    ...cell,
    call: await row.call(world.targets[cell.target], world.actorOf(cell.role), stand),
    cookie: await world.cookieOf(cell.role),
  });
  const make = async ({ call, cookie, headers, method, ...cell }: Prepared) => {
    const ending = await request({ ...run, operation, row }, call, {
      ...{ cookie, method },
      ...(headers && { headers }),
    });
    for (const word of leaks(run, cell, ending)) faults.push(told(operation, cell, `told of ${word}`));
    return ending;
  };
  const judge = (cell: Prepared, { outcome, text }: Ending) => {
    const isForeign = cell.headers !== undefined;
    // A change that is nobody's own to make may also be answered with nothing at all: then nothing may have changed.
    const isNothing = cell.expected === 'nothing' && outcome === 'ok' && text === '{}';
    const isOwn = isNothing || outcome === cell.expected;
    const isRight = isForeign ? outcome !== 'ok' && outcome !== 'nothing' : isOwn;
    const asWho = isForeign ? `from another site got ${outcome}` : `got ${outcome}`;
    if (!isRight) faults.push(told(operation, cell, asWho));
  };

  // What is refused changes nothing, so what is asked for can be made once for all who are refused.
  const made = new Map<TargetName, Prepared['call']>();
  const refused: Prepared[] = [];
  for (const cell of cells.filter(({ expected }) => isRefusal(expected))) {
    const call =
      (row.isPersonal ? undefined : made.get(cell.target)) ??
      (await row.call(world.targets[cell.target], world.actorOf(cell.role), stand));
    made.set(cell.target, call);
    refused.push({ ...cell, call, cookie: await world.cookieOf(cell.role) });
  }
  const allowed = cells.filter(({ expected }) => !isRefusal(expected));
  const [first] = allowed.filter(({ role }) => role !== 'nobody');
  const isChange = operation.kind === 'action' || /^(POST|PUT|PATCH|DELETE) /.test(operation.name);
  if (first && isChange && !row.hasNoOrigin) refused.push({ ...(await prepare(first)), headers: FOREIGN });

  // A page is drawn whatever the method; asked in another way it tells no more.
  if (operation.kind === 'page') {
    const some = [
      refused.find(({ role }) => role === 'nobody'),
      refused.find(({ role }) => !isOutside(role)),
    ];
    const asked = some.flatMap((cell) => (cell ? NOT_GET.map((method) => ({ ...cell, method })) : []));
    refused.push(...asked);
  }

  await forgetTries(client);
  const before = await digest();
  for (const cell of refused) judge(cell, await make(cell));
  const changed = differences(before, await digest());
  if (changed.length > 0) {
    faults.push(`${operation.name}: a refused call changed ${changed.join(', ')}${await culprits(refused)}`);
  }
  for (const cell of allowed) {
    await forgetTries(client);
    const ready = await prepare(cell);
    judge(ready, await make(ready));
    const actor = world.actorOf(cell.role);
    if (actor) await row.undo?.(actor);
  }
  return { cells: refused.length + allowed.length, faults };

  async function culprits(all: readonly Prepared[]): Promise<string> {
    const names: string[] = [];
    for (const cell of all) {
      const then = await digest();
      await make(cell);
      if (differences(then, await digest()).length > 0) names.push(`${cell.role} on ${cell.target}`);
    }
    return names.length > 0 ? ` (${names.join(', ')})` : '';
  }
}
