import { readBreakdown } from '@/lib/data/breakdowns.read';
import type { BreakdownFacts } from '@/lib/domain/breakdowns/breakdown';
import type { Viewer } from '@/lib/domain/people/viewer';
import { notFound } from '@/lib/domain/shared/errors';
import { anId, type BreakdownId } from '@/lib/domain/shared/ids';

/** What a route below `/api/breakdowns/<breakdownId>` is called with. */
export interface BreakdownContext {
  params: Promise<{ breakdownId: string }>;
}

/** The id in the address, or a refusal. */
async function breakdownIdIn({ params }: BreakdownContext): Promise<BreakdownId> {
  const id = anId<BreakdownId>().safeParse((await params).breakdownId);
  if (!id.success) throw notFound('breakdown');
  return id.data;
}

/** The breakdown in the address, as far as the viewer may see it, or a refusal. */
export async function breakdownIn(viewer: Viewer, context: BreakdownContext): Promise<BreakdownFacts> {
  const breakdown = await readBreakdown(viewer, await breakdownIdIn(context));
  if (!breakdown) throw notFound('breakdown');
  return breakdown;
}
