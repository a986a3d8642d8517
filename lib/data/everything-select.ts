import type { Prisma } from './generated/client';
import { personRef, whatWasSaid } from './select';

// What of a lesson goes into the file with everything about its player: what the player's side may see.

export const lessonInCopy = {
  id: true,
  number: true,
  state: true,
  ...whatWasSaid,
  submittedAt: true,
  promisedAt: true,
  returnedAt: true,
  coach: { select: personRef },
  checklist: { select: { items: true } },
  events: { select: { kind: true, at: true, reason: true }, orderBy: { at: 'asc' } },
  clips: {
    select: {
      id: true,
      view: true,
      state: true,
      frameCount: true,
      fileRate: true,
      captureRate: true,
      removedAt: true,
    },
    orderBy: { position: 'asc' },
  },
  returns: {
    select: { number: true, at: true, fixFirst: true, sheet: true },
    orderBy: { number: 'asc' },
  },
  breakdowns: {
    where: { givenAt: { not: null } },
    select: {
      id: true,
      title: true,
      by: { select: personRef },
      givenAt: true,
      durationMs: true,
      readyTake: true,
      removedAt: true,
      captions: true,
    },
    orderBy: { givenAt: 'asc' },
  },
  replies: {
    select: {
      author: { select: personRef },
      body: true,
      at: true,
      edits: { select: { body: true, at: true }, orderBy: { at: 'asc' } },
    },
    orderBy: { at: 'asc' },
  },
  assignments: {
    select: {
      drill: { select: { title: true } },
      cue: true,
      dose: true,
      givenAt: true,
      endedAt: true,
      checkIns: {
        select: {
          day: true,
          setsDone: true,
          repsDone: true,
          feel: true,
          note: true,
          painLevel: true,
          painWhere: true,
        },
        orderBy: { at: 'asc' },
      },
    },
    orderBy: { position: 'asc' },
  },
  views: { select: { person: { select: personRef }, firstSeenAt: true, lastSeenAt: true } },
} satisfies Prisma.LessonSelect;

export type LessonInCopy = Prisma.LessonGetPayload<{ select: typeof lessonInCopy }>;
