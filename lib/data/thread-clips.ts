import type { Prisma } from './generated/client';

/**
 * The sent lessons of a thread with their clips: what a breakdown of one of them may show, because a swing is held
 * beside an earlier one.
 */
export const threadClips = {
  lessons: {
    where: { state: { notIn: ['draft', 'withdrawn'] } },
    select: {
      clips: {
        where: { removedAt: null },
        select: { id: true, state: true, width: true, height: true, frameCount: true },
      },
    },
  },
} satisfies Prisma.ThreadSelect;

type ThreadRow = Prisma.ThreadGetPayload<{ select: typeof threadClips }>;

/** Those clips in one list. */
export const clipsOfThread = (thread: ThreadRow) =>
  thread.lessons
    .flatMap((lesson) => lesson.clips)
    .map((clip) => ({ ...clip, frameCount: clip.frameCount ?? 0 }));
