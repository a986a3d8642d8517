import { answer } from '@/app/_server/api';
import { progressRows } from '@/app/_server/progress-rows';
import { viewerOrRefuse } from '@/app/_server/viewer';
import { readPlayer } from '@/lib/data/people.read';
import { toCsv } from '@/lib/domain/progress/csv';
import { notFound } from '@/lib/domain/shared/errors';
import { anId, type PersonId } from '@/lib/domain/shared/ids';

/** A player's verdicts and measures across lessons as a file of comma-separated values. */
export const GET = (_request: Request, { params }: { params: Promise<{ playerId: string }> }) =>
  answer('player.progress', async () => {
    const viewer = await viewerOrRefuse();
    const id = anId<PersonId>().safeParse((await params).playerId);
    const player = id.success ? await readPlayer(viewer, id.data) : null;
    if (!player) throw notFound('player');
    const rows = await progressRows(viewer, { id: player.personId, name: player.name });
    return new Response(toCsv(rows), {
      headers: {
        'content-type': 'text/csv; charset=utf-8',
        'content-disposition': 'attachment; filename="progress.csv"',
        'cache-control': 'private, no-store',
      },
    });
  });
