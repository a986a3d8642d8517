import { listFamilyOpen, listFamilySettled, listOwed, listToGiveBack } from '@/lib/data/balances.read';
import { listMonths } from '@/lib/data/books.read';
import { listCardPayments } from '@/lib/data/cards.read';
import { countDesk, listCare, listOwnPromises, listOwnReviewTimes, readDesk } from '@/lib/data/desk.read';
import { listDeskViews } from '@/lib/data/desk-views.read';
import { listDocuments } from '@/lib/data/documents.read';
import { listLedger } from '@/lib/data/ledger.read';
import { listLoads } from '@/lib/data/loads.read';
import { listPacks } from '@/lib/data/packs.read';
import { listPayers } from '@/lib/data/payers.read';
import { listPlayers } from '@/lib/data/players.read';
import { listGiven, listOverdueSwings } from '@/lib/data/practice.read';
import { listOldPrices, listPrices } from '@/lib/data/prices.read';
import { readProgram } from '@/lib/data/program.read';
import { listSwings } from '@/lib/data/progress.read';
import { findLessons, findPlayers } from '@/lib/data/search.read';
import { readAuthor, readThread } from '@/lib/data/threads.read';
import { DESK_FILTERS } from '@/lib/domain/desk/desk-query';
import { dayIn } from '@/lib/domain/people/age';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LessonId, PersonId, ProgramId } from '@/lib/domain/shared/ids';
import { viewerOf } from '../../support/viewers';
import type { Generated } from './generate';

export const PAGES = ['desk', 'thread', 'ledger', 'search'] as const;
export type PageName = (typeof PAGES)[number];

/** What each page reads, by the number of the round: other people, filters and words in each. */
export type Reads = Record<PageName, (round: number) => Promise<unknown>>;

/** The reads that the pages make, of one generated program. */
export async function readsOf(of: Generated): Promise<Reads> {
  const program = { id: of.programId as ProgramId };
  const lead = await viewerOf({ id: of.leadId }, program);
  const coach = await viewerOf({ id: of.coachId }, program);
  const payers: Viewer[] = [];
  for (const id of of.guardianIds) payers.push(await viewerOf({ id }, program));
  const at = <T>(list: readonly T[], round: number) => list[round % list.length] as T;
  const frame = (viewer: Viewer): Promise<unknown>[] => [readProgram(viewer), readAuthor(viewer)];
  const typed = [...of.words.rare, ...of.words.some, ...of.words.common];
  return {
    desk: async (round) => {
      const viewer = at([coach, lead], round);
      const now = new Date();
      const filter = at(DESK_FILTERS, round >> 1);
      const careIds = listCare(viewer, now);
      return Promise.all([
        ...frame(viewer),
        readDesk(viewer, { filter, now, careIds }),
        countDesk(viewer, now, careIds),
        listOwnPromises(viewer),
        listOwnReviewTimes(viewer),
        listOverdueSwings(viewer, dayIn('America/Chicago', now)),
        listLoads(viewer, { now, endOfDay: new Date(now.getTime() + 6 * 3_600_000) }),
        listDeskViews(viewer),
      ]);
    },
    thread: (round) => {
      const playerId = at(of.playerIds, round) as PersonId;
      return Promise.all([
        ...frame(lead),
        readThread(lead, playerId),
        listGiven(lead, { playerId }),
        listSwings(lead, playerId),
      ]);
    },
    // By turns a lesson's entries, what a family's payer sees, and what the lead sees of the whole program.
    ledger: (round) => {
      const payer = at(payers, round);
      const turns: (() => Promise<unknown>[])[] = [
        () => [...frame(lead), listLedger(lead, at(of.lessonIds, round) as LessonId)],
        () => [
          ...frame(payer),
          listFamilyOpen(payer),
          listFamilySettled(payer),
          listPacks(payer, 'family'),
          listDocuments(payer, 'family'),
          listPrices(payer),
          listCardPayments(payer, new Date(Date.now() - 3_600_000)),
        ],
        () => [
          ...frame(lead),
          listOwed(lead),
          listToGiveBack(lead),
          listPacks(lead, 'program'),
          listPayers(lead, new Date()),
          listPrices(lead),
          listOldPrices(lead),
          listMonths(lead),
          listDocuments(lead, 'program'),
        ],
      ];
      return Promise.all(at(turns, round)());
    },
    // By turns words in the box of the players' page, and its list without any.
    search: (round) => {
      const words = at(typed, round);
      return Promise.all([
        ...frame(lead),
        ...(round % 8 === 7 ? [listPlayers(lead)] : [findLessons(lead, words), findPlayers(lead, words)]),
      ]);
    },
  };
}
