import { dayOfDate, type Day } from '@/lib/domain/people/age';
import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import { countLines, deadlinesOf, type Deadlines } from '@/lib/domain/privacy/retention';
import { prisma } from './client';

/** The deadlines that hold in the viewer's program: everybody in it may know them. */
export async function readDeadlines(viewer: Viewer): Promise<Deadlines> {
  const row = await prisma.program.findUniqueOrThrow({
    where: { id: viewer.programId },
    select: { retention: true },
  });
  return deadlinesOf(row.retention);
}

/** One night of the job that deletes what is due. */
export interface NightLine {
  day: Day;
  /** False for a night that is at work or was broken off; the next one takes up what it left. */
  isOver: boolean;
  lines: { title: string; count: number }[];
}

/** The last nights of the viewer's program, newest first, at most `take`: for leads. Empty for others. */
export async function listNights(viewer: Viewer, take = 14): Promise<NightLine[]> {
  if (!isLead(viewer)) return [];
  const rows = await prisma.retentionRun.findMany({
    where: { programId: viewer.programId },
    orderBy: { day: 'desc' },
    take,
    select: { day: true, endedAt: true, counts: true },
  });
  return rows.map(({ day, endedAt, counts }) => ({
    day: dayOfDate(day),
    isOver: endedAt !== null,
    lines: countLines(counts),
  }));
}
