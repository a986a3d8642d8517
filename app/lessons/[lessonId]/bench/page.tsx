import type { Metadata } from 'next';
import { notFound, redirect } from 'next/navigation';
import { frameTables } from '@/app/_server/frame-tables';
import { besideClips, MOST_BESIDE } from '@/app/_server/beside-clips';
import { clipsOnPage } from '@/app/_server/clips-on-page';
import { pageFrame } from '@/app/_server/page-frame';
import { ports } from '@/app/_server/ports';
import { requireViewer } from '@/app/_server/viewer';
import { PlayersOf } from '@/app/lessons/_swing/players';
import { readNextOnDesk } from '@/lib/data/desk.read';
import { listDrills } from '@/lib/data/drills.read';
import { readLesson } from '@/lib/data/lessons.read';
import { listGiven } from '@/lib/data/practice.read';
import { listTargets } from '@/lib/data/targets.read';
import { listSwings } from '@/lib/data/progress.read';
import { listReturnedSheets, readSheet } from '@/lib/data/reviews.read';
import { readThreadGate } from '@/lib/data/threads.read';
import { shownAge } from '@/lib/domain/desk/care';
import { noticePlan } from '@/lib/domain/notices/plan';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { CONTACT_REASON, staffContact } from '@/lib/domain/people/safeguarding';
import { isStaff } from '@/lib/domain/people/viewer';
import { anId, type LessonId } from '@/lib/domain/shared/ids';
import { noteShown } from '@/lib/workflows/note-shown';
import { Bench } from '../_review/bench';

export const metadata: Metadata = { title: 'Bench' };

/** The coach's bench for one lesson. */
export default async function BenchPage({ params }: { params: Promise<{ lessonId: string }> }) {
  const { lessonId } = await params;
  const viewer = await requireViewer(`/lessons/${lessonId}/bench`);
  const id = anId<LessonId>().safeParse(lessonId);
  if (!id.success) notFound();
  if (!isStaff(viewer)) redirect(`/lessons/${id.data}`);
  const [lesson, kept] = await Promise.all([readLesson(viewer, id.data), readSheet(viewer, id.data)]);
  if (!lesson || !kept) notFound();
  if (lesson.state !== 'submitted' && lesson.state !== 'in_review') redirect(`/lessons/${id.data}`);
  const [frame, earlier, gate, next, tables, targets, swings, drills, going] = await Promise.all([
    pageFrame(viewer),
    listReturnedSheets(viewer, lesson.player.id),
    readThreadGate(viewer, lesson.threadId),
    readNextOnDesk(viewer, lesson.id),
    frameTables(lesson.clips.filter((clip) => clip.state === 'ready')),
    listTargets(viewer, lesson.player.id),
    listSwings(viewer, lesson.player.id, { before: lesson.number }),
    listDrills(viewer),
    listGiven(viewer, { playerId: lesson.player.id }),
  ]);
  if (!gate) notFound();
  await noteShown(ports, viewer, { playerId: lesson.player.id, what: 'lesson', id: lesson.id });
  const { now, timeZone } = frame;
  const today = dayIn(timeZone, now);
  const { guardians } = gate;
  const contact = staffContact({ birthDate: gate.player.birthDate as Day | null }, guardians, today);
  const told = noticePlan({ player: gate.player, guardians }, now, today, timeZone);
  const clips = clipsOnPage(viewer, lesson.clips, now);
  const others = besideClips(viewer, swings, frame).slice(0, MOST_BESIDE);
  return (
    <PlayersOf clips={[...clips, ...others.map(({ clip }) => clip)]}>
      <Bench
        lesson={lesson}
        clips={clips}
        others={others}
        kept={{ sheet: kept.sheet, revision: kept.revision }}
        viewerId={viewer.personId}
        age={shownAge(lesson.player.birthDate, today)}
        before={earlier.find((one) => one.lessonId === lesson.follows?.id) ?? null}
        closed={contact === 'open' ? null : CONTACT_REASON[contact]}
        told={told.map(({ name, at }) => ({ name, at }))}
        nextId={next?.id ?? null}
        tables={Object.fromEntries(tables)}
        targets={targets}
        drills={drills.rows}
        stillGiven={going.filter((one) => one.lesson.id !== lesson.id).length}
        now={now}
        timeZone={timeZone}
      />
    </PlayersOf>
  );
}
