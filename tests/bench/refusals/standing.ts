import {
  buildClip,
  buildLedgerEntry,
  buildLesson,
  buildReply,
  type buildPlayer,
  type buildProgram,
} from '../../support/build';
import { buildBreakdown } from '../../support/build-breakdown';
import { buildDocument, buildPack } from '../../support/build-money';
import { buildAssignment, buildDrill } from '../../support/build-practice';

/** Everything of a player that pages show: a lesson in each state with a clip, a breakdown, money, a drill. */
export async function buildStanding(
  player: Awaited<ReturnType<typeof buildPlayer>>,
  {
    program,
    coach,
    lead,
  }: { program: Awaited<ReturnType<typeof buildProgram>>; coach: { id: string }; lead: { id: string } },
) {
  const question = `What ${player.name} wants to know`;
  const submitted = await buildLesson(program, player, { state: 'submitted', question });
  const inReview = await buildLesson(program, player, { state: 'in_review', coachId: coach.id, question });
  const returned = await buildLesson(program, player, { state: 'returned', coachId: coach.id, question });
  const drill = await buildDrill(program);
  await buildLedgerEntry(returned, lead);
  await buildReply(returned, player, { body: question });
  await buildPack(program, player);
  return {
    submitted,
    inReview,
    returned,
    clip: await buildClip(returned),
    given: await buildBreakdown(returned, coach, { state: 'ready', isGiven: true }),
    document: await buildDocument(program, player),
    assignment: await buildAssignment(returned, player, drill),
  };
}
