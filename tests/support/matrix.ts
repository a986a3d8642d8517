import { v7 as uuid } from 'uuid';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Viewer } from '@/lib/domain/people/viewer';
import { prisma } from '@/lib/data/client';
import type { Tx } from '@/lib/data/transaction';
import { buildBreakdown, buildExport, buildRemark } from './build-breakdown';
import {
  buildClip,
  buildCoach,
  buildGuardian,
  buildInvitation,
  buildLead,
  buildLedgerEntry,
  buildLesson,
  buildMeasureTarget,
  buildPlayer,
  buildProgram,
  buildReply,
} from './build';
import { buildCoachHours, buildDeskView } from './build-desk';
import { buildConcern, buildShown } from './build-care';
import { buildCardPayment, buildDocument, buildPack, buildPackPrice, buildPaidTooMuch } from './build-money';
import { buildNotice } from './build-notices';
import { buildAssignment, buildDrill, buildDrillClip } from './build-practice';
import { buildCopy, buildErasure, buildHold } from './build-privacy';
import { viewerOf } from './viewers';

export const WHO = ['player', 'guardian', 'coach', 'lead'] as const;
export type Who = (typeof WHO)[number];

/**
 * Whose things are asked for: `own` is the viewer's own (for staff: a thread they coach), `other` somebody else's in
 * the same program, `elsewhere` another program's, `bare` those of a minor without a verified guardian in the same
 * program (as a player: that minor; as a guardian: somebody the minor named and no lead has confirmed).
 */
export const CASES = ['own', 'other', 'elsewhere', 'bare'] as const;
export type Case = (typeof CASES)[number];

/** One player with everything that hangs on them. */
export type Target = Awaited<ReturnType<typeof buildTarget>>;

async function buildTarget(
  program: Awaited<ReturnType<typeof buildProgram>>,
  staff: { coach: { id: string }; lead: { id: string } },
  isBare: boolean,
) {
  const player = await buildPlayer(program, { age: 15 });
  const guardian = await buildGuardian(program, [player], { isVerified: !isBare });
  const coachId = staff.coach.id;
  const draft = await buildLesson(program, player, { state: 'draft' });
  const submitted = await buildLesson(program, player, { state: 'submitted' });
  const inReview = await buildLesson(program, player, { state: 'in_review', coachId });
  const returned = await buildLesson(program, player, { state: 'returned', coachId });
  const clip = await buildClip(submitted);
  const given = await buildBreakdown(returned, staff.coach, { state: 'ready', isGiven: true });
  await buildMeasureTarget(program, player, staff.coach);
  const drill = await buildDrill(program);
  await buildShown(program, player, staff.coach, returned);
  await buildCoachHours(program, staff.coach);
  return {
    program,
    player,
    deskView: await buildDeskView(program, staff.coach),
    guardian,
    draft,
    submitted,
    concern: await buildConcern(program, player),
    hold: await buildHold(program, player, staff.lead),
    erasure: await buildErasure(program, player, guardian),
    copy: await buildCopy(program, player, guardian),
    inReview,
    returned,
    clip,
    openClip: await buildClip(submitted, { state: 'expected', position: 1 }),
    failedClip: await buildClip(submitted, {
      state: 'failed',
      failCode: 'out-of-time',
      storageKey: `clips/${player.id}/original`,
      position: 2,
    }),
    breakdown: await buildBreakdown(inReview, staff.coach, { state: 'ready' }),
    openBreakdown: await buildBreakdown(inReview, staff.coach),
    given,
    drill,
    comingClip: await buildDrillClip(drill, staff.coach, { state: 'preparing' }),
    bareDrill: await buildDrill(program),
    assignment: await buildAssignment(returned, player, drill, {
      swingBy: new Date('2026-01-10'),
    }),
    exported: await buildExport(given, guardian),
    remark: await buildRemark(program, staff.coach),
    reply: await buildReply(returned, player),
    charge: await buildLedgerEntry(returned, staff.lead),
    withdrawn: await withdrawnAndPaid(),
    pack: await buildPack(program, player),
    packPrice: await buildPackPrice(program),
    paidTooMuch: await buildPaidTooMuch(program, player),
    document: await buildDocument(program, player),
    card: await buildCardPayment(returned, player),
    notice: await buildNotice(program, player),
    invitation: await buildInvitation(program, staff.lead, { role: 'guardian', playerId: player.id }),
    expected: await buildInvitation(program, staff.lead, {
      role: 'guardian',
      email: guardian.email ?? '',
      usedAt: new Date('2026-01-10'),
      childName: 'Wren Sample',
    }),
  };

  async function withdrawnAndPaid() {
    const lesson = await buildLesson(program, player, { state: 'withdrawn' });
    await buildLedgerEntry(lesson, staff.lead);
    await buildLedgerEntry(lesson, staff.lead, { kind: 'payment', amountMinor: 4500 });
    return lesson;
  }
}

/** Two programs; in the first a player with a guardian, another one, and a minor without; staff in both. */
export async function buildWorld() {
  const here = await buildProgram();
  const staff = { coach: await buildCoach(here), lead: await buildLead(here) };
  const far = await buildProgram({ name: 'Elsewhere Hitting' });
  const farStaff = { coach: await buildCoach(far), lead: await buildLead(far) };
  const targets: Record<Case, Target> = {
    own: await buildTarget(here, staff, false),
    other: await buildTarget(here, { coach: await buildCoach(here), lead: staff.lead }, false),
    elsewhere: await buildTarget(far, farStaff, false),
    bare: await buildTarget(here, staff, true),
  };
  const viewerFor = async (who: Who, which: Case): Promise<Viewer> => {
    if (who === 'coach' || who === 'lead') return viewerOf(staff[who], here);
    return viewerOf(targets[which === 'bare' ? 'bare' : 'own'][who], here);
  };
  return { here, far, staff, farStaff, targets, viewerFor };
}

type Call = (viewer: Viewer, target: Target, tx: Tx) => Promise<unknown>;

/** An export that is about a target: who may, in which cases. Every other cell must be refused. */
export interface TargetRow {
  kind: 'target';
  may: Partial<Record<Who, readonly Case[]>>;
  call: Call;
  /** Whether the answer holds the target, for lists that are answered to everybody. Else: not null, not empty, not false. */
  holds?: (answer: never, target: Target) => boolean;
}

/** An export that is about the viewer alone: it answers to everybody and never tells of another program. */
export interface SelfRow {
  kind: 'self';
  call: (viewer: Viewer, tx: Tx) => Promise<unknown>;
}

/** An export that the program calls by itself, before or without a viewer, and why that is safe. */
export interface SystemRow {
  kind: 'system';
  why: string;
}

export type Row = TargetRow | SelfRow | SystemRow;

export const row = (
  may: TargetRow['may'],
  call: Call,
  holds?: (answer: never, target: Target) => boolean,
): TargetRow => ({ kind: 'target', may, call, ...(holds ? { holds } : {}) });
export const self = (call: SelfRow['call']): SelfRow => ({ kind: 'self', call });
export const system = (why: string): SystemRow => ({ kind: 'system', why });

/** A write that answers nothing has been granted when it did not throw. */
export const done = async (work: Promise<unknown>) => (await work, true);
/** For a list under `key`: whether the target is in it, by its id. */
export const has = <K extends string>(key: K, idOf: (t: never) => string) =>
  ((answer: Record<K, string>[], target: never) => answer.some((one) => one[key] === idOf(target))) as never;
/** An id that nobody has yet. */
export const fresh = <Id extends string>() => uuid() as Id;

const HERE = ['own', 'other', 'bare'] as const;
/** What belongs to a player: themselves, their verified guardians, and the staff of the program. */
export const PLAYERS_SIDE_AND_STAFF = {
  player: ['own', 'bare'],
  guardian: ['own'],
  coach: HERE,
  lead: HERE,
} as const;
/** What only the player's side does. */
export const PLAYERS_SIDE = { player: ['own', 'bare'], guardian: ['own'] } as const;
/** What only staff of the program do. */
export const STAFF = { coach: HERE, lead: HERE } as const;
export const LEADS = { lead: HERE } as const;

class RollBack extends Error {}

/** Runs the work in a transaction and takes everything back, so that no cell of the matrix changes another. */
export async function tryOut<T>(work: (tx: Tx) => Promise<T>): Promise<T> {
  let outcome: { value: T } | undefined;
  await prisma
    .$transaction(
      async (tx) => {
        outcome = { value: await work(tx as unknown as Tx) };
        throw new RollBack();
      },
      { timeout: 20_000, maxWait: 20_000 },
    )
    .catch((error: unknown) => {
      if (!(error instanceof RollBack)) throw error;
    });
  if (!outcome) throw new Error('The transaction ended without an answer.');
  return outcome.value;
}

const isEmpty = (answer: unknown) =>
  answer === null || answer === false || answer === 0 || (Array.isArray(answer) && answer.length === 0);

/** Whether one cell was granted. A refusal is an empty answer or a `not-found`; every other error is a defect and is thrown. */
export async function isGranted(one: TargetRow, viewer: Viewer, target: Target): Promise<boolean> {
  try {
    const answer = await tryOut((tx) => one.call(viewer, target, tx));
    return one.holds ? one.holds(answer as never, target) : !isEmpty(answer);
  } catch (error) {
    if (error instanceof CagepostError && error.fault === 'not-found') return false;
    throw error;
  }
}
