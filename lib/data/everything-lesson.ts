import { dayOfDate } from '@/lib/domain/people/age';
import type { EverythingLesson } from '@/lib/domain/privacy/everything';
import type { LessonInCopy } from './everything-select';
import { saidIn, toChecklist } from './select';

const iso = (at: Date | null) => at?.toISOString() ?? null;

/** A row of a lesson as the copy tells it. Its files are found later, in the storage. */
export const toEverythingLesson = (row: LessonInCopy): EverythingLesson => ({
  id: row.id,
  number: row.number,
  state: row.state,
  ...saidIn(row),
  sentAt: iso(row.submittedAt),
  promisedAt: iso(row.promisedAt),
  returnedAt: iso(row.returnedAt),
  coach: row.coach?.name ?? null,
  items: toChecklist(row.checklist.items).map(({ id, title }) => ({ id, title })),
  events: row.events.map((one) => ({ ...one, at: one.at.toISOString() })),
  clips: row.clips.map((clip) => ({ ...clip, removedAt: iso(clip.removedAt), files: [] })),
  returns: row.returns.map((one) => ({ ...one, at: one.at.toISOString() })),
  breakdowns: row.breakdowns.flatMap(({ by, givenAt, readyTake, ...one }) =>
    givenAt
      ? [
          {
            ...one,
            take: readyTake,
            by: by.name,
            givenAt: givenAt.toISOString(),
            removedAt: iso(one.removedAt),
            files: [],
          },
        ]
      : [],
  ),
  replies: row.replies.map(({ author, edits, ...one }) => ({
    by: author.name,
    body: one.body,
    at: one.at.toISOString(),
    earlier: edits.map((edit) => ({ body: edit.body, at: edit.at.toISOString() })),
  })),
  practice: row.assignments.map(({ drill, checkIns, ...one }) => ({
    drill: drill.title,
    cue: one.cue,
    dose: one.dose,
    givenAt: one.givenAt.toISOString(),
    endedAt: iso(one.endedAt),
    checkIns: checkIns.map((checkIn) => ({ ...checkIn, day: dayOfDate(checkIn.day) })),
  })),
  opened: row.views.map((view) => ({
    by: view.person.name,
    firstAt: view.firstSeenAt.toISOString(),
    lastAt: view.lastSeenAt.toISOString(),
  })),
});
