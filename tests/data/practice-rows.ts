import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import * as drillClipsRead from '@/lib/data/drill-clips.read';
import * as drillClips from '@/lib/data/drill-clips.write';
import * as drillsRead from '@/lib/data/drills.read';
import * as drills from '@/lib/data/drills.write';
import * as practiceRead from '@/lib/data/practice.read';
import * as practice from '@/lib/data/practice.write';
import { DEFAULT_DRILLS } from '@/lib/domain/drills/default-library';
import { plainDose } from '@/lib/domain/drills/dose';
import { SAFETY_VERSION } from '@/lib/domain/drills/practice';
import type { Day } from '@/lib/domain/people/age';
import type { ClipId } from '@/lib/domain/shared/ids';
import {
  done,
  PLAYERS_SIDE,
  PLAYERS_SIDE_AND_STAFF,
  row,
  self,
  STAFF,
  system,
  type Row,
} from '../support/matrix';

// The rows of `matrix-rows.ts` about drills and practice.

const at = new Date('2026-06-01T12:00:00Z');

export const PRACTICE_ROWS: Record<string, Record<string, Row>> = {
  'drills.read': {
    listDrills: row(STAFF, async (v, _t, tx) => (await drillsRead.listDrills(v, {}, tx)).rows, ((
      answer: { id: unknown }[],
      t: { drill: { id: unknown } },
    ) => answer.some((one) => one.id === t.drill.id)) as never),
  },
  'drill-clips.read': {
    listComingClips: row(STAFF, (v, t) => drillClipsRead.listComingClips(v, [t.drill.seriesId])),
  },
  'drill-clips.write': {
    // Not for the drill that has a clip on its way already: that is refused for another reason.
    announceDrillClip: row(STAFF, (v, t, tx) =>
      done(
        drillClips.announceDrillClip(
          v,
          tx,
          {
            ...{ clipId: uuid() as ClipId, drillId: t.bareDrill.id },
            ...{ shows: 'sender', captureRate: null },
          },
          at,
        ),
      ),
    ),
    takeAwayDrillClip: row(STAFF, (v, t, tx) =>
      done(drillClips.takeAwayDrillClip(v, tx, t.comingClip.id, at)),
    ),
  },
  'drill-clips.system': {
    readDrillClipSide: system('the worker tells who sent it that it could not'),
    showOnDrill: system('the worker shows what a checked upload brought'),
  },
  'drills.write': {
    addDrills: self((v, tx) => drills.addDrills(v, tx, DEFAULT_DRILLS, at).catch(() => null)),
    retireDrill: row(STAFF, (v, t, tx) => done(drills.retireDrill(v, tx, t.drill.id, at))),
    replaceDrill: row(STAFF, (v, t, tx) => drills.replaceDrill(v, tx, t.drill.id, DEFAULT_DRILLS[0]!, at)),
  },
  'practice.read': {
    listGiven: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      practiceRead.listGiven(v, { lessonId: t.returned.id }, tx),
    ),
    listPractised: row(PLAYERS_SIDE_AND_STAFF, async (v, t) => {
      const span = { from: '2020-01-01' as Day, until: '2100-01-01' as Day };
      return (await practiceRead.listPractised(v, t.player.id, span)).drills;
    }),
    listOverdueSwings: row(
      STAFF,
      (v, _t, tx) => practiceRead.listOverdueSwings(v, '2026-06-01' as Day, tx),
      ((answer: { id: unknown }[], t: { assignment: { id: unknown } }) =>
        answer.some((one) => one.id === t.assignment.id)) as never,
    ),
    readPracticeSafety: row(PLAYERS_SIDE_AND_STAFF, async (v, t, tx) => {
      await prisma.practiceSafety.createMany({
        data: { playerId: t.player.id, version: SAFETY_VERSION, byId: t.player.id },
        skipDuplicates: true,
      });
      return practiceRead.readPracticeSafety(v, t.player.id, tx);
    }),
  },
  'practice.write': {
    keepGiven: row(STAFF, (v, t, tx) =>
      done(
        practice.keepGiven(v, tx, {
          lessonId: t.inReview.id,
          given: [
            {
              id: uuid(),
              drillId: String(t.drill.id),
              dose: plainDose('tee', null),
              cue: '',
              swingBy: null,
            },
          ],
          isPainful: false,
          at,
        }),
      ),
    ),
    lockGiven: row(PLAYERS_SIDE, (v, t, tx) => practice.lockGiven(v, tx, t.assignment.id)),
    addCheckIn: row(PLAYERS_SIDE, (v, t, tx) =>
      practice.addCheckIn(v, tx, {
        id: uuid(),
        assignmentId: t.assignment.id,
        day: '2026-06-01' as Day,
        setsDone: 2,
        repsDone: 16,
        feel: null,
        note: '',
        painLevel: 0,
        painWhere: null,
        at,
      }),
    ),
    pausePractice: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      done(practice.pausePractice(v, tx, t.player.id, at)),
    ),
    noteCleared: row(PLAYERS_SIDE, (v, t, tx) => done(practice.noteCleared(v, tx, t.player.id))),
    openPractice: row(STAFF, (v, t, tx) => done(practice.openPractice(v, tx, t.player.id))),
    keepSafety: row(PLAYERS_SIDE, (v, t, tx) =>
      done(practice.keepSafety(v, tx, { playerId: t.player.id, adult: null, at })),
    ),
    linkAnswer: row(PLAYERS_SIDE, (v, t, tx) =>
      done(practice.linkAnswer(v, tx, t.draft.id, t.assignment.id)),
    ),
  },
};
