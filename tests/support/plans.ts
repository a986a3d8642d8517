import pg from 'pg';

/** One statement as it went to the database. */
export interface Statement {
  text: string;
  values: unknown[];
}

/** A node of what `EXPLAIN (FORMAT JSON)` answers; only what is asked about here. */
export interface PlanNode {
  'Node Type': string;
  'Relation Name'?: string;
  'Index Name'?: string;
  'Actual Rows'?: number;
  'Actual Loops'?: number;
  'Rows Removed by Filter'?: number;
  'Shared Hit Blocks'?: number;
  'Shared Read Blocks'?: number;
  Plans?: PlanNode[];
}

export interface Explained {
  Plan: PlanNode;
  'Planning Time'?: number;
  'Execution Time'?: number;
}

type Query = (...args: unknown[]) => unknown;

/** Every statement that reaches the database through `pg` while the work runs, in order, with its parameters. */
export async function statementsOf(work: () => Promise<unknown>): Promise<Statement[]> {
  const found: Statement[] = [];
  const client = pg.Client.prototype as unknown as { query: Query };
  const { query } = client;
  client.query = function (this: pg.Client, ...args: unknown[]) {
    const [first, second] = args;
    if (typeof first === 'string') found.push({ text: first, values: Array.isArray(second) ? second : [] });
    else if (isStatement(first)) {
      const values = first.values ?? (Array.isArray(second) ? second : []);
      found.push({ text: first.text, values });
    }
    return query.apply(this, args);
  };
  try {
    await work();
  } finally {
    client.query = query;
  }
  return found.filter(({ text }) => /^\s*(SELECT|WITH|INSERT|UPDATE|DELETE)/i.test(text));
}

const isStatement = (value: unknown): value is { text: string; values?: unknown[] } =>
  typeof value === 'object' && value !== null && 'text' in value && typeof value.text === 'string';

/** How the database answers a statement; with `isRun` it also runs it, and counts what each step of the plan did. */
export async function explain(client: pg.Client, statement: Statement, isRun = false): Promise<Explained> {
  const how = isRun ? 'ANALYZE, BUFFERS, FORMAT JSON' : 'FORMAT JSON';
  const { rows } = await client.query(`EXPLAIN (${how}) ${statement.text}`, statement.values);
  return (rows[0] as { 'QUERY PLAN': Explained[] })['QUERY PLAN'][0]!;
}

/** The nodes of a plan, from the top. */
export const nodesOf = (node: PlanNode): PlanNode[] => [node, ...(node.Plans ?? []).flatMap(nodesOf)];
