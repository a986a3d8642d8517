import { readThreadGate } from '@/lib/data/threads.read';
import { listStaffToTell } from '@/lib/data/program.read';
import type { Tx } from '@/lib/data/transaction';
import type { NoticeBody } from '@/lib/domain/notices/notice';
import { noticePlan, type NoticeTo, type PlayersSide } from '@/lib/domain/notices/plan';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { CLEARANCE_REASON } from '@/lib/domain/people/clearances';
import {
  CONTACT_REASON,
  type GuardianshipFacts,
  isMinor,
  staffContact,
  type PlayerFacts,
} from '@/lib/domain/people/safeguarding';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { ThreadId } from '@/lib/domain/shared/ids';
import type { ProgramFacts } from '@/lib/domain/lessons/lesson';
import { tell } from './tell';

/** The player's side of a thread with its program and the program's day. */
export interface Side extends PlayersSide {
  guardians: readonly (PlayersSide['guardians'][number] & GuardianshipFacts)[];
  program: ProgramFacts;
  today: Day;
}

/** Loads the player's side of a thread; refuses like an absent one when it is not the viewer's. */
export async function loadSide(viewer: Viewer, threadId: ThreadId, now: Date, tx?: Tx): Promise<Side> {
  const gate = await readThreadGate(viewer, threadId, tx);
  if (!gate) throw notFound('thread');
  return {
    program: gate.program,
    today: dayIn(gate.program.timeZone, now),
    player: gate.player,
    guardians: gate.guardians,
  };
}

/** Refuses staff who would reach a minor without a verified guardian on the thread, or during a pause. `kept` tells what was kept. */
export function assertContact(viewer: Viewer, side: Side, kept = 'What you wrote is kept.'): void {
  if (!isStaff(viewer)) return;
  const player = { birthDate: side.player.birthDate as Day | null };
  assertCleared(viewer, player, side.today, kept);
  const contact = staffContact(player, side.guardians, side.today);
  if (contact === 'open') return;
  throw new CagepostError('safeguarding', `${CONTACT_REASON[contact]} ${kept}`, { contact });
}

/** Refuses staff, leads too, who would work with a minor while their own checks do not hold. */
export function assertCleared(
  viewer: Viewer,
  player: PlayerFacts,
  today: Day,
  kept = 'Nothing was changed.',
): void {
  if (!isStaff(viewer) || viewer.isCleared || !isMinor(player, today)) return;
  throw new CagepostError('safeguarding', `${CLEARANCE_REASON} ${kept}`);
}

/** Tells everybody on the player's side. Returns who is told and when. */
export async function tellPlayersSide(
  viewer: Viewer,
  tx: Tx,
  side: Side,
  now: Date,
  body: NoticeBody,
): Promise<NoticeTo[]> {
  const plan = noticePlan(side, now, side.today, side.program.timeZone);
  await tell(viewer, tx, body, {
    programId: viewer.programId,
    playerId: side.player.id,
    to: plan,
    now,
  });
  return plan;
}

/** Tells the coach of a lesson, or with null all who could be; of a minor's only those whose checks hold, and leads. */
export async function tellStaff(
  viewer: Viewer,
  tx: Tx,
  side: Side,
  now: Date,
  body: NoticeBody,
  coachId: string | null,
): Promise<void> {
  const isMinors = isMinor({ birthDate: side.player.birthDate as Day | null }, side.today);
  const staff = await listStaffToTell(viewer, tx, { coachId, isMinors, today: side.today });
  await tell(viewer, tx, body, {
    programId: viewer.programId,
    playerId: side.player.id,
    to: staff.map((one) => ({ ...one, at: now })),
    now,
  });
}
