import { asSystem } from '@/lib/auth/system';
import { checkHealth, PARTS } from '@/lib/workflows/check-health';
import { isQueueUp, ports } from '@/app/_server/ports';
import { VERSION } from '@/lib/platform/version';

// Set by scripts/drain.mjs once this server was told to end.
const isDraining = () => (globalThis as { cagepostIsDraining?: boolean }).cagepostIsDraining === true;

export const dynamic = 'force-dynamic';

/** For whoever watches this installation: which parts work; 503 while one does not, and while this server is ending. */
export async function GET(): Promise<Response> {
  const health = await checkHealth(asSystem('health'), { ...ports, storage: ports.storage, isQueueUp });
  const isUp = PARTS.every((part) => health[part] === 'up') && !isDraining();
  return Response.json(
    { ...health, version: VERSION, ...(isDraining() && { draining: true }) },
    { status: isUp ? 200 : 503, headers: { 'cache-control': 'no-store' } },
  );
}
