import { dateOfDay } from '@/lib/domain/people/age';
import { isLead, isStaff, sendsFor, type Viewer } from '@/lib/domain/people/viewer';
import type { Prisma } from './generated/client';

// The only places where "who may see what" becomes a query. Every builder names the program first and grants
// nothing by default: a viewer without a role matches no row.

/**
 * Players whose things the viewer may see: all of the program for leads and for coaches whose checks hold, those of age
 * for coaches without, and for everybody oneself as a player and one's wards.
 */
const playersVisibleTo = (viewer: Viewer): Prisma.PersonWhereInput => {
  const memberships = { some: { programId: viewer.programId, role: 'player' } } as const;
  if (isLead(viewer) || (isStaff(viewer) && viewer.isCleared)) return { memberships };
  const own = {
    id: { in: sendsFor(viewer) as string[] },
  };
  if (!isStaff(viewer)) return { ...own, memberships };
  return { memberships, OR: [{ birthDate: { lte: dateOfDay(viewer.adultsBornUntil) } }, own] };
};

/** Threads the viewer may read. */
export const threadsVisibleTo = (viewer: Viewer): Prisma.ThreadWhereInput => ({
  programId: viewer.programId,
  player: playersVisibleTo(viewer),
});

/** Lessons the viewer may read. Staff do not see what was never sent, thrown away or not: it is the sender's. */
export const lessonsVisibleTo = (viewer: Viewer): Prisma.LessonWhereInput => ({
  programId: viewer.programId,
  thread: threadsVisibleTo(viewer),
  OR: isStaff(viewer)
    ? [
        { state: { notIn: ['draft', 'withdrawn'] } },
        { state: 'withdrawn', submittedAt: { not: null } },
        { startedById: viewer.personId },
      ]
    : [{ state: { not: 'draft' } }, { state: 'draft' }],
});

/** Clips the viewer may read: those of visible lessons that were not removed. */
export const clipsVisibleTo = (viewer: Viewer): Prisma.ClipWhereInput => ({
  removedAt: null,
  lesson: lessonsVisibleTo(viewer),
});

/** Clips of the library that were not removed: for staff all of the program, for others ready ones of drills given to players whom they see. */
export const drillClipsVisibleTo = (viewer: Viewer): Prisma.ClipWhereInput => ({
  removedAt: null,
  drill: { programId: viewer.programId },
  ...(isStaff(viewer)
    ? {}
    : { state: 'ready', shownBy: { some: { assignments: { some: assignmentsVisibleTo(viewer) } } } }),
});

/** Breakdowns the viewer may read: staff all of visible lessons, the player's side those that were given to them. */
export const breakdownsVisibleTo = (viewer: Viewer): Prisma.BreakdownWhereInput => ({
  lesson: lessonsVisibleTo(viewer),
  ...(isStaff(viewer) ? {} : { givenAt: { not: null } }),
});

/**
 * Drills given to players whom the viewer may see. The lesson they were given in was returned to that player, so who
 * sees the player reads the lesson; asking for it again would cost the planner more than the answer.
 */
export const assignmentsVisibleTo = (viewer: Viewer): Prisma.AssignmentWhereInput => ({
  programId: viewer.programId,
  player: playersVisibleTo(viewer),
});

/** People the viewer may read: staff everyone of the program (coaches without valid
 * checks no minors), others themselves, their wards and the program's staff. */
export const peopleVisibleTo = (viewer: Viewer): Prisma.PersonWhereInput =>
  isStaff(viewer)
    ? {
        memberships: { some: { programId: viewer.programId } },
        ...(isLead(viewer) || viewer.isCleared
          ? {}
          : {
              OR: [
                { memberships: { none: { programId: viewer.programId, role: 'player' } } },
                playersVisibleTo(viewer),
              ],
            }),
      }
    : {
        OR: [
          { id: viewer.personId },
          playersVisibleTo(viewer),
          { memberships: { some: { programId: viewer.programId, role: { in: ['coach', 'lead'] } } } },
        ],
      };

/**
 * Invitations the viewer may read: staff all of the program (coaches without valid checks none for a minor's guardian),
 * others those they sent.
 */
export const invitationsVisibleTo = (viewer: Viewer): Prisma.InvitationWhereInput => ({
  programId: viewer.programId,
  ...(isStaff(viewer) ? {} : { createdById: viewer.personId }),
  ...(isStaff(viewer) && !isLead(viewer) && !viewer.isCleared
    ? { OR: [{ playerId: null }, { createdById: viewer.personId }] }
    : {}),
});

/** Invitations the viewer may take back: leads all of the program, others those they sent. */
export const invitationsChangeableBy = (viewer: Viewer): Prisma.InvitationWhereInput => ({
  programId: viewer.programId,
  ...(isLead(viewer) ? {} : { createdById: viewer.personId }),
});

/** Concerns the viewer may read: a lead those of the program that are not about themselves. */
export const concernsReadableBy = (viewer: Viewer): Prisma.ConcernWhereInput => ({
  programId: viewer.programId,
  OR: isLead(viewer) ? [{ aboutId: null }, { aboutId: { not: viewer.personId } }] : [],
});

/** Oneself and one's wards; nobody for a viewer without a role. */
const familyIds = (viewer: Viewer): string[] =>
  viewer.roles.length > 0 ? [viewer.personId, ...viewer.wards] : [];

/** Payers whose money the viewer may see: for leads all of the program, else oneself and one's wards. */
export const payersVisibleTo = (viewer: Viewer) => ({
  programId: viewer.programId,
  ...(isLead(viewer) ? {} : { payerId: { in: familyIds(viewer) } }),
});

/** The viewer's own family as payers: oneself and one's wards, for a lead neither more. */
export const familyOf = (viewer: Viewer) => ({
  programId: viewer.programId,
  payerId: { in: familyIds(viewer) },
});

/** Packs the viewer may read, with what was paid for them. */
export const packsVisibleTo = (viewer: Viewer): Prisma.PackWhereInput => payersVisibleTo(viewer);

/** Packs of the viewer's program that a player may use: the player's own and those of the player's verified guardians. */
export const packsUsableFor = (viewer: Viewer, playerId: string): Prisma.PackWhereInput => ({
  programId: viewer.programId,
  OR: [{ payerId: playerId }, { payer: { wards: { some: { playerId, verifiedAt: { not: null } } } } }],
});

/** The viewer's own notices in the program they look at, none before its time. */
export const noticesShownTo = (viewer: Viewer, now: Date): Prisma.NoticeWhereInput => ({
  personId: viewer.roles.length > 0 ? viewer.personId : { in: [] },
  programId: viewer.programId,
  shownFrom: { lte: now },
});

export { playersVisibleTo };
