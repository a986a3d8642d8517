import { subHours } from 'date-fns';
import type { Prisma } from '../../lib/data/generated/client';
import { mailFor, type NoticeBody } from '../../lib/domain/notices/notice';
import { afterQuietHours } from '../../lib/domain/notices/quiet-hours';
import { demoId } from './ids';

const LATEST = 20;
/** What came longer ago than this was read. */
const READ_AFTER_HOURS = 40;

/** What the people of the demo were told of the latest lessons: to the staff that they came, to the families that they are back. */
export async function writeNotices(tx: Prisma.TransactionClient, programId: string, now: Date) {
  const program = await tx.program.findUniqueOrThrow({ where: { id: programId } });
  const staff = await tx.membership.findMany({
    where: { programId, role: { in: ['coach', 'lead'] } },
    select: { personId: true },
    distinct: ['personId'],
  });
  const lessons = await tx.lesson.findMany({
    where: { programId, submittedAt: { not: null }, state: { not: 'withdrawn' } },
    select: {
      id: true,
      number: true,
      painLevel: true,
      submittedAt: true,
      promisedAt: true,
      returnedAt: true,
      coach: { select: { id: true, name: true } },
      thread: {
        select: {
          player: {
            select: {
              id: true,
              name: true,
              email: true,
              guardians: { where: { verifiedAt: { not: null } }, select: { guardianId: true } },
            },
          },
        },
      },
    },
    orderBy: { submittedAt: 'desc' },
    take: LATEST,
  });
  const rows: Prisma.NoticeCreateManyInput[] = [];
  for (const { id, number, painLevel, submittedAt, promisedAt, returnedAt, coach, thread } of lessons) {
    const { player } = thread;
    const data = {
      programName: program.name,
      playerName: player.name,
      lessonNumber: number ?? 0,
      path: `/lessons/${id}`,
    };
    const family = [
      ...player.guardians.map(({ guardianId }) => guardianId),
      ...(player.email ? [player.id] : []),
    ];
    const say = (body: NoticeBody, to: readonly string[], at: Date) => {
      for (const personId of new Set(to)) {
        const isYoung = personId === player.id && player.guardians.length > 0;
        const shownFrom = isYoung ? afterQuietHours(at, program.timeZone) : at;
        const isRead = shownFrom < subHours(now, READ_AFTER_HOURS);
        rows.push({
          id: demoId(`notice/${body.kind}/${id}/${personId}`),
          programId,
          personId,
          playerId: player.id,
          kind: body.kind,
          data: body.data,
          path: body.data.path,
          mail: mailFor(body.kind, null),
          // Nothing of the demo goes by mail.
          digestedAt: now,
          at,
          shownFrom,
          readAt: isRead ? shownFrom : null,
        });
      }
    };
    const team = staff.map(({ personId }) => personId);
    if (submittedAt) {
      const promise = promisedAt?.toISOString() ?? '';
      say({ kind: 'lesson-submitted', data: { ...data, promise, path: '/desk' } }, team, submittedAt);
      if ((painLevel ?? 0) > 0) say({ kind: 'pain-reported', data }, [...family, ...team], submittedAt);
    }
    if (returnedAt && coach)
      say({ kind: 'lesson-returned', data: { ...data, coachName: coach.name } }, family, returnedAt);
  }
  await tx.notice.createMany({ data: rows });
}
