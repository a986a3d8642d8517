import { performance } from 'node:perf_hooks';
import { Client } from 'pg';
import { prisma } from '@/lib/data/client';
import { explain, nodesOf, statementsOf, type PlanNode } from '../../support/plans';
import type { Generated } from './generate';
import { readsOf, type PageName } from './pages';

// One program's reads in a process of its own, with its own connections: the bench asks for one page after another,
// by turns of the small and of the large program, so that whatever else the machine does falls on both alike.

export type Ask =
  | { do: 'begin'; of: Generated }
  | { do: 'read'; page: PageName; round: number }
  | { do: 'plans'; page: PageName; round: number }
  | { do: 'end' };

export interface Planned {
  ms: number;
  planningMs: number;
  blocks: number;
  text: string;
  touched: string[];
}

let reads: Awaited<ReturnType<typeof readsOf>>;

const blocksOf = (node: PlanNode) => (node['Shared Hit Blocks'] ?? 0) + (node['Shared Read Blocks'] ?? 0);

async function plansOf(page: PageName, round: number): Promise<Planned[]> {
  const statements = await statementsOf(() => reads[page](round));
  const client = new Client({ connectionString: process.env.DATABASE_URL });
  await client.connect();
  try {
    const plans: Planned[] = [];
    for (const statement of statements) {
      const plan = await explain(client, statement, true);
      plans.push({
        ms: plan['Execution Time'] ?? 0,
        planningMs: plan['Planning Time'] ?? 0,
        blocks: blocksOf(plan.Plan),
        text: statement.text,
        touched: nodesOf(plan.Plan).flatMap((node) =>
          node['Relation Name'] || node['Index Name']
            ? [
                `${node['Node Type']} ${node['Index Name'] ?? node['Relation Name']} rows ${node['Actual Rows']} x ${node['Actual Loops']}, filtered ${node['Rows Removed by Filter'] ?? 0}`,
              ]
            : [],
        ),
      });
    }
    return plans;
  } finally {
    await client.end();
  }
}

async function answer(ask: Ask): Promise<unknown> {
  switch (ask.do) {
    case 'begin':
      reads = await readsOf(ask.of);
      return null;
    case 'read': {
      const begun = performance.now();
      await reads[ask.page](ask.round);
      return performance.now() - begun;
    }
    case 'plans':
      return plansOf(ask.page, ask.round);
    case 'end':
      await prisma.$disconnect();
      return null;
  }
}

process.once('disconnect', () => process.exit());
process.on('message', (ask: Ask) => {
  void answer(ask).then(
    (value) => {
      process.send?.({ value });
      if (ask.do === 'end') process.disconnect();
    },
    (error: unknown) => {
      process.send?.({ error: String(error instanceof Error ? error.stack : error) });
    },
  );
});
