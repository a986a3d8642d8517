import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import type { Prisma } from '@/lib/data/generated/client';
import type { NoticeBody } from '@/lib/domain/notices/notice';
import type { NoticeId } from '@/lib/domain/shared/ids';

/** A notice that says a lesson is back, or another one. */
export const aNotice = (programName = 'Maple Street', path = '/lessons'): NoticeBody => ({
  kind: 'lesson-returned',
  data: { programName, playerName: 'Wren Sample', coachName: 'Cole Sample', lessonNumber: 2, path },
});

/** A notice of this person: unread, shown an hour ago, unless it says otherwise. */
export async function buildNotice(
  program: { id: string; name: string },
  person: { id: string },
  {
    body = aNotice(program.name),
    ...overrides
  }: Partial<Omit<Prisma.NoticeUncheckedCreateInput, 'kind' | 'data' | 'path'>> & { body?: NoticeBody } = {},
) {
  const hourAgo = new Date(Date.now() - 3_600_000);
  const row = await prisma.notice.create({
    data: {
      id: uuid(),
      programId: program.id,
      personId: person.id,
      kind: body.kind,
      data: body.data,
      path: body.data.path,
      at: hourAgo,
      shownFrom: hourAgo,
      ...overrides,
    },
  });
  return { ...row, id: row.id as NoticeId };
}
